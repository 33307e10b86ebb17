// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include "core/shop/id.h"

#include <QList>
#include <QString>
#include <QWidget>

class QLabel;
class QListWidget;

namespace milehold::ui {

class SearchBox;

/// A job that is in work, as a row that a glove can hit.
struct JobInWork {
    core::JobId job;
    QString text; ///< `Job 411 · 2020 Tarvick Grello · KTR 0402 · since 5/13/2031`
};

/// Whose vehicle a new job is for: a scan, a search, or a job in work to go on with.
class VehiclePicker : public QWidget {
    Q_OBJECT
public:
    explicit VehiclePicker(QWidget* parent = nullptr);

    SearchBox* search() const { return search_; }
    void setJobsInWork(const QList<JobInWork>& jobs);
    /// Empties the search and puts the keyboard there.
    void start();

signals:
    void jobChosen(milehold::core::JobId job);
    void closeWanted();

private:
    SearchBox* search_;
    QLabel* heading_;
    QListWidget* inWork_;
    QList<JobInWork> jobs_;
};

} // namespace milehold::ui
