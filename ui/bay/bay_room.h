// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include "ui/bay/job_list.h"
#include "ui/bay/job_sheet.h"

#include <QStackedWidget>

namespace milehold::ui {

/// The technician's room: the jobs, and the sheet of one of them. Values in, signals out.
class BayRoom : public QStackedWidget {
    Q_OBJECT
public:
    explicit BayRoom(QWidget* parent = nullptr);

    void setContext(const BayContext& context);
    JobList* jobs() const { return jobs_; }
    JobSheet* sheet() const { return sheet_; }
    bool isSheetOpen() const { return currentIndex() == 1; }
    void showSheet();
    void showJobs();

signals:
    void newJobWanted(); ///< from the list or by Ctrl+N

private:
    JobList* jobs_;
    JobSheet* sheet_;
};

} // namespace milehold::ui
