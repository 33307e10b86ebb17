// SPDX-License-Identifier: GPL-3.0-or-later
#include "ui/words/busy_label.h"

#include "ui/theme/theme.h"

#include <QTimer>

namespace milehold::ui {

namespace {

constexpr int kSaySoonMs = 100;

} // namespace

BusyLabel::BusyLabel(QWidget* parent) : QLabel(tr("Working it out \u2026"), parent), soon_(new QTimer(this)) {
    theme::setText(this, TextRole::Small, true);
    hide();
    soon_->setSingleShot(true);
    soon_->setInterval(kSaySoonMs);
    connect(soon_, &QTimer::timeout, this, &QWidget::show);
}

void BusyLabel::setBusy(bool busy) {
    if (busy) {
        if (!soon_->isActive() && isHidden())
            soon_->start();
        return;
    }
    soon_->stop();
    hide();
}

} // namespace milehold::ui
