// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include "app/desktop/database.h"
#include "app/desktop/office_lives.h"
#include "app/desktop/owner_topics.h"
#include "app/desktop/session.h"
#include "ui/office/office_room.h"

#include <QObject>

#include <memory>

namespace milehold::app {

/// Joins the Office with the session: works the curves out on worker threads and shows the newest answer
/// only.
class OfficeController : public QObject {
    Q_OBJECT
public:
    OfficeController(ui::OfficeRoom& room, Database& database, Session& session, QObject* parent = nullptr);

    /// Writes what is shown to a file and says so.
    void saveTo(const QString& path, ui::OfficeRoom::Export what);

signals:
    /// Opens the list of jobs in the Bay, with why these.
    void showJobs(const std::vector<milehold::core::JobId>& jobs, const QString& why);
    void openVehicle(milehold::core::VehicleId id);
    /// The owner wants to log the first job.
    void logJobWanted();
    void said(const QString& what);

private:
    void showChoices();
    /// Takes the session's lives, shelf and people for what is asked from now on.
    void takeLives();
    void changeUnit();
    void refresh();
    void askWhere(ui::OfficeRoom::Export what);
    void sayWritten(const QString& path, const QString& problem);
    /// Works out the page of a topic other than the curves.
    void refreshTopic(ui::OwnerTopic topic);
    void workOut(ui::OwnerTopic topic, OwnerRecords records);
    void saveReport(int choice);
    /// Shows the sheets of a month's report as they will be printed.
    void showReport(int choice);
    void countClaims();

    ui::OfficeRoom& room_;
    Database& database_;
    Session& session_;
    std::shared_ptr<const OfficeLives> lives_;
    int newest_ = 0;
    int newestTopic_ = 0;
    int reportChoice_ = 0; ///< of the months
};

} // namespace milehold::app
