// SPDX-License-Identifier: GPL-3.0-or-later
#include "ui/bay/bay_room.h"

#include <QShortcut>

namespace milehold::ui {

BayRoom::BayRoom(QWidget* parent)
    : QStackedWidget(parent), jobs_(new JobList(this)), sheet_(new JobSheet(this)) {
    addWidget(jobs_);
    addWidget(sheet_);
    setFocusProxy(jobs_->list());
    connect(this, &QStackedWidget::currentChanged, this,
            [this](int page) { setFocusProxy(page == 0 ? jobs_->list() : nullptr); });
    connect(jobs_, &JobList::newJobWanted, this, &BayRoom::newJobWanted);
    auto* fresh = new QShortcut(QKeySequence::New, this);
    // Wherever the keyboard is in the window, while this room is the one on view.
    fresh->setContext(Qt::WindowShortcut);
    connect(fresh, &QShortcut::activated, this, &BayRoom::newJobWanted);
}

void BayRoom::setContext(const BayContext& context) {
    jobs_->setUnit(context.unit);
    sheet_->setContext(context);
    jobs_->setContext(context);
}

void BayRoom::showSheet() {
    setCurrentIndex(1);
}

void BayRoom::showJobs() {
    setCurrentIndex(0);
    jobs_->focusList();
}

} // namespace milehold::ui
