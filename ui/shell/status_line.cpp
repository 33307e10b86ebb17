// SPDX-License-Identifier: GPL-3.0-or-later
#include "ui/shell/top_bar.h"
#include "ui/theme/icons.h"
#include "ui/theme/paint.h"
#include "ui/theme/theme.h"

#include <QHBoxLayout>
#include <QLabel>
#include <QProgressBar>
#include <QToolButton>

#include <cmath>

namespace milehold::ui {

StatusLine::StatusLine(QWidget* parent) : QWidget(parent) {
    setFixedHeight(32);
    auto* row = new QHBoxLayout(this);
    row->setContentsMargins(kMargin, 1, kGap, 0);
    row->setSpacing(kGrid);
    const auto label = [this](bool soft) {
        auto* text = new QLabel(this);
        theme::setText(text, TextRole::Small, soft);
        return text;
    };
    shop_ = label(true);
    note_ = label(false);
    workText_ = label(true);
    workBar_ = new QProgressBar(this);
    workBar_->setFixedWidth(160);
    workBar_->setTextVisible(false);
    cancel_ = new QToolButton(this);
    cancel_->setIcon(icon(QStringLiteral("close")));
    cancel_->setIconSize(QSize(14, 14));
    cancel_->setFocusPolicy(Qt::TabFocus);
    cancel_->setFixedSize(26, 26);
    backup_ = new QToolButton(this);
    backup_->setToolButtonStyle(Qt::ToolButtonTextBesideIcon);
    backup_->setIconSize(QSize(16, 16));
    backup_->setFont(theme::font(TextRole::Small));
    backup_->setFocusPolicy(Qt::TabFocus);
    backup_->setFixedHeight(26);
    backup_->setToolTip(tr("Make a backup now"));
    row->addWidget(shop_);
    row->addSpacing(kGrid);
    row->addWidget(note_, 1);
    row->addWidget(workText_);
    row->addWidget(workBar_);
    row->addWidget(cancel_);
    row->addSpacing(kGrid);
    row->addWidget(backup_);
    connect(cancel_, &QToolButton::clicked, this, [this] { emit workCancelled(workId_); });
    connect(backup_, &QToolButton::clicked, this, &StatusLine::backupWanted);
    setWork({});
    setBackup(tr("No backup yet"), true);
}

void StatusLine::setShop(const QString& name) {
    shop_->setText(name);
}
void StatusLine::setNote(const QString& text) {
    note_->setText(text);
}

void StatusLine::setBackup(const QString& text, bool needsYou) {
    backup_->setText(text);
    backup_->setAccessibleName(text);
    backup_->setIcon(icon(needsYou ? QStringLiteral("warning") : QStringLiteral("backup")));
}

void StatusLine::setWork(const QList<BackgroundWork>& work) {
    const bool any = !work.isEmpty();
    workText_->setVisible(any);
    workBar_->setVisible(any);
    cancel_->setVisible(any && work.first().cancellable);
    if (!any)
        return;
    const BackgroundWork& first = work.first();
    workId_ = first.id;
    workText_->setText(work.size() > 1 ? tr("%1 (and %2 more)").arg(first.text).arg(work.size() - 1)
                                       : first.text);
    workBar_->setRange(0, first.share < 0 ? 0 : 1000);
    if (first.share >= 0)
        workBar_->setValue(static_cast<int>(std::lround(first.share * 1000)));
    workBar_->setAccessibleName(first.text);
    cancel_->setToolTip(tr("Stop: %1").arg(first.text));
    cancel_->setAccessibleName(cancel_->toolTip());
}

void StatusLine::paintEvent(QPaintEvent*) {
    QPainter painter(this);
    paint::hairline(painter, QPointF(0, 0), QPointF(width(), 0), theme::tokensOf(this).hairline);
}

} // namespace milehold::ui
