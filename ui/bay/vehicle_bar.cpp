// SPDX-License-Identifier: GPL-3.0-or-later
#include "ui/bay/vehicle_bar.h"

#include "ui/bay/vehicle_line_view.h"
#include "ui/bay/vehicle_words.h"
#include "ui/theme/icons.h"
#include "ui/theme/theme.h"
#include "ui/widgets/engine_plan.h"
#include "ui/widgets/text.h"
#include "ui/words/labels.h"

#include <QHBoxLayout>
#include <QLabel>
#include <QPainter>
#include <QToolButton>
#include <QVBoxLayout>

namespace milehold::ui {

/// The engine family: its badge and its name.
class EngineSign : public QWidget {
public:
    explicit EngineSign(QWidget* parent) : QWidget(parent) {
        setSizePolicy(QSizePolicy::Preferred, QSizePolicy::Fixed);
    }
    void setEngine(const core::EngineFamily* family) {
        name_ = family ? toText(family->name) : QString();
        badge_ = family ? EngineBadge{family->banks, family->positions, {}} : EngineBadge{};
        setVisible(family != nullptr);
        setAccessibleName(name_);
        updateGeometry();
        update();
    }
    QSize sizeHint() const override {
        const QFontMetrics metrics(theme::font(TextRole::Small));
        return {int(engineBadgeWidth(badge_, kHeight)) + 2 * kGrid + metrics.horizontalAdvance(name_),
                int(kHeight)};
    }

protected:
    void paintEvent(QPaintEvent*) override {
        QPainter painter(this);
        const Tokens& tokens = theme::tokensOf(this);
        const double wide = engineBadgeWidth(badge_, kHeight);
        paintEngineBadge(painter, QRectF(0, 0, wide, kHeight), badge_, tokens);
        painter.setFont(theme::font(TextRole::Small));
        painter.setPen(tokens.inkSoft);
        painter.drawText(QRectF(wide + kGrid, 0, width() - wide - kGrid, kHeight),
                         Qt::AlignLeft | Qt::AlignVCenter, name_);
    }

private:
    static constexpr double kHeight = 18;
    QString name_;
    EngineBadge badge_;
};

namespace {

/// One line that ends in an ellipsis where it must.
class ElidedLabel : public QLabel {
public:
    using QLabel::QLabel;

protected:
    void paintEvent(QPaintEvent*) override {
        QPainter painter(this);
        painter.setFont(font());
        painter.setPen(palette().color(foregroundRole()));
        painter.drawText(rect(), Qt::AlignLeft | Qt::AlignVCenter,
                         fontMetrics().elidedText(text(), Qt::ElideRight, width()));
    }
};

} // namespace

VehicleBar::VehicleBar(QWidget* parent)
    : QWidget(parent), back_(new QToolButton(this)), heading_(new QLabel(this)),
      title_(new ElidedLabel(this)), detail_(new ElidedLabel(this)), engine_(new EngineSign(this)),
      edit_(new QToolButton(this)), line_(new VehicleLineView(this)) {
    auto* row = new QHBoxLayout(this);
    row->setContentsMargins(kGap, 10, kMargin, 6);
    row->setSpacing(kGrid);

    back_->setIcon(icon(QStringLiteral("chevron-left")));
    back_->setToolTip(tr("Back to the jobs; what is typed is kept (Esc)"));
    back_->setAccessibleName(tr("Back to the jobs"));
    back_->setFocusPolicy(Qt::TabFocus);
    row->addWidget(back_, 0, Qt::AlignTop);

    auto* words = new QVBoxLayout;
    words->setSpacing(2);
    theme::setText(heading_, TextRole::Small, true);
    heading_->setObjectName(QStringLiteral("sheetHeading"));
    theme::setText(title_, TextRole::Title);
    title_->setObjectName(QStringLiteral("vehicleTitle"));
    theme::setText(detail_, TextRole::Small, true);
    auto* name = new QHBoxLayout;
    name->setSpacing(kHalf);
    edit_->setIcon(icon(QStringLiteral("edit")));
    edit_->setToolTip(tr("Vehicle and customer (F2)"));
    edit_->setAccessibleName(tr("Change vehicle and customer"));
    edit_->setFocusPolicy(Qt::TabFocus);
    name->addWidget(title_);
    name->addWidget(edit_);
    name->addStretch(1);
    words->addWidget(heading_);
    words->addLayout(name);
    words->addWidget(detail_);
    words->addWidget(engine_);
    row->addLayout(words, 2);
    row->addSpacing(kGap);
    row->addWidget(line_, 3, Qt::AlignVCenter);
    for (auto* label : {title_, detail_}) {
        label->setTextFormat(Qt::PlainText);
        label->setMinimumWidth(120);
        label->setSizePolicy(QSizePolicy::Ignored, QSizePolicy::Preferred);
    }
    title_->setSizePolicy(QSizePolicy::Preferred, QSizePolicy::Preferred);

    connect(back_, &QToolButton::clicked, this, &VehicleBar::closeWanted);
    connect(edit_, &QToolButton::clicked, this, &VehicleBar::vehicleEditToggled);
    connect(line_, &VehicleLineView::jobActivated, this, &VehicleBar::jobActivated);
}

void VehicleBar::setContext(const BayContext& context) {
    context_ = context;
    line_->setUnit(context.unit);
}

void VehicleBar::setCard(const JobCard& card) {
    const core::Job& job = card.job;
    const QString what = job.kind == core::JobKind::Repair ? tr("Job") : word(job.kind);
    heading_->setText(
        job.isVoid()      ? tr("%1 %2, void: %3").arg(what).arg(job.number).arg(toText(job.voidReason))
        : job.number == 0 ? tr("New: %1").arg(word(job.kind).toLower())
        : job.repairOrder.empty()
            ? tr("%1 %2").arg(what).arg(job.number)
            : tr("%1 %2, repair order %3").arg(what).arg(job.number).arg(toText(job.repairOrder)));
    title_->setText(vehicleTitle(card.vehicle));
    title_->setToolTip(title_->text());
    detail_->setText(vehicleDetail(card.vehicle, card.customer));
    detail_->setToolTip(detail_->text());
    engine_->setEngine(card.vehicle.family ? context_.shelf->find(*card.vehicle.family) : nullptr);
    line_->setOpenJob(job.id);
}

void VehicleBar::setPast(const core::VehicleHistory& past, const std::vector<core::Life>& lives) {
    line_->setLine(vehicleLine(past, lives));
}

void VehicleBar::paintEvent(QPaintEvent*) {
    QPainter painter(this);
    const Tokens& tokens = theme::tokensOf(this);
    painter.fillRect(rect(), tokens.surface);
    painter.setPen(tokens.hairline);
    painter.drawLine(0, height() - 1, width(), height() - 1);
}

} // namespace milehold::ui
