// SPDX-License-Identifier: GPL-3.0-or-later
// Where the fields of the job sheet stand: what a finished job needs comes first and needs no scrolling.
#include "ui/bay/arrival_section.h"
#include "ui/bay/comeback_section.h"
#include "ui/bay/concern_section.h"
#include "ui/bay/delivery_section.h"
#include "ui/bay/found_section.h"
#include "ui/bay/job_form.h"
#include "ui/bay/parts_section.h"
#include "ui/bay/path_section.h"
#include "ui/bay/vehicle_section.h"
#include "ui/bay/work_section.h"
#include "ui/theme/paint.h"
#include "ui/theme/theme.h"
#include "ui/widgets/segmented.h"

#include <QHBoxLayout>
#include <QPainter>
#include <QScrollArea>
#include <QVBoxLayout>

namespace milehold::ui {
namespace {

/// The ground under the delivery check and the save: part of the sheet that does not scroll away.
class SignOff : public QWidget {
public:
    using QWidget::QWidget;

protected:
    void paintEvent(QPaintEvent*) override {
        QPainter painter(this);
        const Tokens& tokens = theme::tokensOf(this);
        painter.fillRect(rect(), tokens.surface);
        painter.setPen(tokens.hairline);
        painter.drawLine(0, 0, width(), 0);
    }
};

/// A thin line between two columns.
class Divider : public QWidget {
public:
    explicit Divider(QWidget* parent) : QWidget(parent) { setFixedWidth(2 * kGap + 1); }

protected:
    void paintEvent(QPaintEvent*) override {
        QPainter painter(this);
        painter.setPen(theme::tokensOf(this).hairline);
        painter.drawLine(kGap, 0, kGap, height());
    }
};

} // namespace

void JobForm::build() {
    scroll_ = new QScrollArea(this);
    auto* sheet = new QWidget(scroll_);
    kind_ =
        new Segmented({tr("Timing repair"), tr("Visit for something else"), tr("Repaired elsewhere")}, sheet);
    kind_->setObjectName(QStringLiteral("kind"));
    kind_->setAccessibleName(tr("What kind of job this is"));
    stage_ = new Segmented({tr("In work"), tr("Finished")}, sheet);
    stage_->setObjectName(QStringLiteral("stage"));
    stage_->setAccessibleName(tr("Whether the vehicle has left"));
    comeback_ = new ComebackSection(sheet);
    vehicle_ = new VehicleSection(sheet);
    arrival_ = new ArrivalSection(sheet);
    path_ = new PathSection(sheet);
    parts_ = new PartsSection(sheet);
    concern_ = new ConcernSection(sheet);
    found_ = new FoundSection(sheet);
    work_ = new WorkSection(sheet);
    delivery_ = new DeliverySection(this);
    scroll_->setWidget(sheet);
    scroll_->setWidgetResizable(true);
    scroll_->setFrameShape(QFrame::NoFrame);
    scroll_->setHorizontalScrollBarPolicy(Qt::ScrollBarAsNeeded); // on a screen narrower than the sheet
    scroll_->setFocusPolicy(Qt::NoFocus);
}

void JobForm::layOut() {
    QWidget* sheet = scroll_->widget();
    auto* stack = new QVBoxLayout(sheet);
    stack->setContentsMargins(kMargin, 12, kMargin, kMargin);
    stack->setSpacing(12);

    auto* head = new QHBoxLayout;
    head->addWidget(kind_);
    head->addStretch(1);
    head->addWidget(stage_);
    stack->addLayout(head);
    stack->addWidget(comeback_);
    stack->addWidget(vehicle_);

    auto* main = new QHBoxLayout;
    main->setSpacing(0);
    arrival_->setFixedWidth(284);
    main->addWidget(arrival_, 0, Qt::AlignLeft); // alone on a visit, it stays where it stands on a repair
    repairOnly_ = new QWidget(sheet);
    auto* repair = new QHBoxLayout(repairOnly_);
    repair->setContentsMargins(0, 0, 0, 0);
    repair->setSpacing(0);
    repair->addWidget(new Divider(repairOnly_));
    path_->setMinimumWidth(240);
    repair->addWidget(path_, 2);
    repair->addWidget(new Divider(repairOnly_));
    parts_->setMinimumWidth(496);
    repair->addWidget(parts_, 3);
    main->addWidget(repairOnly_, 1);
    stack->addLayout(main);

    auto* more = new QHBoxLayout;
    more->setSpacing(2 * kGap);
    more->addWidget(concern_, 1);
    auto* right = new QVBoxLayout;
    right->setSpacing(kGap);
    right->addWidget(found_);
    right->addWidget(work_);
    right->addStretch(1);
    more->addLayout(right, 2);
    stack->addLayout(more);
    stack->addStretch(1);

    auto* signOff = new SignOff(this);
    auto* foot = new QHBoxLayout(signOff);
    foot->setContentsMargins(kMargin, 10, kMargin, 10);
    foot->setSpacing(kGap);
    foot->addWidget(delivery_);
    actions_ = new QHBoxLayout;
    actions_->setSpacing(kGrid);
    foot->addLayout(actions_, 1);

    auto* whole = new QVBoxLayout(this);
    whole->setContentsMargins(0, 0, 0, 0);
    whole->setSpacing(0);
    whole->addWidget(scroll_, 1);
    whole->addWidget(signOff);
}

} // namespace milehold::ui
