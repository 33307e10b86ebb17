// SPDX-License-Identifier: GPL-3.0-or-later
// The choices over the owner's room and the pages behind them.
#include "ui/office/office_room.h"
#include "ui/office/owner_page.h"
#include "ui/theme/icons.h"
#include "ui/theme/theme.h"
#include "ui/widgets/segmented.h"
#include "ui/words/busy_label.h"

#include <QHBoxLayout>
#include <QLabel>
#include <QPushButton>
#include <QStackedWidget>

namespace milehold::ui {

QWidget* OfficeRoom::makeTopics() {
    auto* row = new QWidget(this);
    topics_ = new Segmented(ownerTopicNames(), row);
    topics_->setObjectName(QStringLiteral("topics"));
    topics_->setAccessibleName(tr("What to look at"));
    topics_->setCurrent(0);
    export_ = new QPushButton(tr("Sa&ve"), row);
    export_->setObjectName(QStringLiteral("export"));
    export_->setIcon(icon(QStringLiteral("export")));
    export_->setToolTip(tr("Saves what is shown: figures, steps of the curves, the chart"));
    fillExportMenu();
    auto* line = new QHBoxLayout(row);
    line->setContentsMargins(0, 0, 0, 0);
    line->setSpacing(kGrid);
    line->addWidget(topics_);
    line->addWidget(busy_);
    line->addStretch();
    line->addWidget(export_);
    connect(topics_, &Segmented::chosen, this,
            [this](int topic) { showTopic(static_cast<OwnerTopic>(topic)); });
    return row;
}
OwnerTopic OfficeRoom::topic() const {
    return static_cast<OwnerTopic>(std::max(0, topics_->current()));
}

void OfficeRoom::showTopic(OwnerTopic topic) {
    topics_->setCurrent(static_cast<int>(topic));
    views_->setCurrentIndex(static_cast<int>(topic));
    export_->setVisible(topic == OwnerTopic::Curves);
    if (topic != OwnerTopic::Curves)
        emit topicWanted(topic);
}

void OfficeRoom::setPage(OwnerTopic topic, const OwnerPageData& page) {
    setBusy(false);
    OwnerPageData shown = page;
    if (view_ && view_->query.filters() && topic != OwnerTopic::Report)
        shown.lead.prepend((topic == OwnerTopic::Evidence
                                ? tr("Only the repairs that are chosen on How long.")
                                : tr("All repairs: what is chosen on How long does not count here.")) +
                           QChar(u' '));
    topicPages_[static_cast<std::size_t>(topic) - 1]->setData(shown);
}

void OfficeRoom::setClaimsDue(int claims) {
    auto* button = topics_->button(static_cast<int>(OwnerTopic::Comebacks));
    const QString name = ownerTopicNames()[static_cast<int>(OwnerTopic::Comebacks)];
    button->setText(claims > 0 ? tr("%1 (%2)").arg(name).arg(claims) : name);
    button->setToolTip(claims > 0 ? tr("Claims to suppliers near their deadline or past it: %1").arg(claims)
                                  : QString());
}

std::optional<core::VehicleId> OfficeRoom::currentVehicle() const {
    return topic() == OwnerTopic::Curves
               ? std::nullopt
               : topicPages_[static_cast<std::size_t>(topic()) - 1]->currentVehicle();
}

const OwnerPageData& OfficeRoom::page(OwnerTopic topic) const {
    return topicPages_[static_cast<std::size_t>(topic) - 1]->data();
}

} // namespace milehold::ui
