// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include "app/desktop/bay_reading.h"
#include "app/desktop/card_draft.h"
#include "app/desktop/database.h"
#include "app/desktop/draft_keeper.h"
#include "app/desktop/session.h"
#include "storage/job_store.h"

#include <QObject>

#include <functional>
#include <vector>

namespace milehold::ui {
class BayRoom;
}

namespace milehold::app {

/// Joins the Bay with the records: lists jobs, opens sheets, saves them, keeps what is half typed.
class BayController : public QObject {
    Q_OBJECT
public:
    BayController(ui::BayRoom& room, Database& database, Session& session, QObject* parent = nullptr);
    ~BayController() override;

public slots:
    /// A fresh sheet for the vehicle; its jobs in work are offered on it.
    void openVehicle(milehold::core::VehicleId vehicle);
    void openJob(milehold::core::JobId job);
    /// A fresh sheet that asks for its vehicle.
    void newJob();
    void startJobFor(milehold::core::VehicleId vehicle) { openVehicle(vehicle); }
    /// From a scan or typed text: the one vehicle that it names, else a new one.
    void startJobFor(const QString& scanned);
    /// The jobs behind a figure, and what the figure is.
    void showJobs(const std::vector<milehold::core::JobId>& jobs, const QString& why);
    /// Puts what is being typed on disk at once; to be called before the shop is closed.
    void keepDraft();
    /// Closes the sheet and forgets what was typed on it: its customer is to be forgotten.
    void dropSheet();
    /// Reads the list and the drafts anew.
    void refresh();

signals:
    void said(const QString& what);
    void needsAttention(const QString& sentence);
    /// The Bay has something to show: the window should turn to it.
    void roomWanted();
    void quoteWanted(milehold::core::VehicleId vehicle);

private:
    void connectRoom();
    void shareContext();
    void refreshList();
    void refreshDrafts();
    void findVehicles(const QString& query);
    void chooseVehicle(const QVariant& key);
    void openFresh(SheetData data);
    void openSheet(const SheetData& data, const ui::JobCard& shown,
                   const std::map<std::string, std::string>& unfinished = {});
    ui::JobCard freshCard() const;
    void watchDraft();
    void leaveSheet();
    void backToList();
    void resumeDraft(const QString& key);
    void readJob(core::JobId job);
    void applyDraft(const CardDraft& draft, bool said = false);
    void save();
    void saved(const ui::JobCard& mine, const storage::JobBundle& stored);
    void notSaved(const core::Error& error, const ui::JobCard& mine);
    void offerMerge(const ui::JobCard& mine);
    void voidJob(const QString& reason);
    void unvoidJob();
    void replaceInstrument(const core::OdometerReading& reading);
    void rereadPast();
    void offerJobsInWork();
    void answerNotice(const QString& id, int action);
    void reloadIfUntouched();
    void failed(const core::Error& error);

    ui::BayRoom& room_;
    Database& database_;
    Session& session_;
    DraftKeeper draft_;
    std::vector<core::JobId> given_;
    std::vector<core::JobId> inWork_; ///< jobs in work that the open sheet offers
    std::function<void()> mergeMine_; ///< what the two answers to a conflict do
    std::function<void()> takeTheirs_;
    std::function<void()> compare_;              ///< shows both versions
    std::optional<core::JobId> selectAfterList_; ///< the job just saved, to be shown when the list has come
    int ticket_ = 0;                             ///< of the newest sheet that was asked for
};

} // namespace milehold::app
