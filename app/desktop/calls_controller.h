// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include "app/desktop/database.h"
#include "app/desktop/draft_keeper.h"
#include "app/desktop/session.h"
#include "core/life/call_due.h"
#include "ui/counter/call_values.h"

#include <QObject>
#include <QPointer>

#include <vector>

namespace milehold::ui {
class CallsPanel;
class AnswersDialog;
class CallSheetDialog;
} // namespace milehold::ui

namespace milehold::app {

/// Joins the calls to make with the records: ranks them anew whenever a life has moved, stores answers, keeps
/// what is half typed, and hands the list out as a sheet and as a calendar file.
class CallsController : public QObject {
    Q_OBJECT
public:
    CallsController(ui::CallsPanel& panel, Database& database, Session& session, QObject* parent = nullptr);

    /// The sheet of the calls that are listed, shown without blocking.
    ui::CallSheetDialog* openSheet();
    /// The answers that were logged last, of which one can be voided; shown without blocking.
    ui::AnswersDialog* openAnswers();
    /// The calls that are listed as a calendar file, made at this moment. Errors: as core::callCalendar().
    core::Result<std::string> calendar(core::Moment madeAt) const;
    /// Writes it; said() tells how that went.
    void saveCalendar(const QString& path);
    /// Puts what is being typed on disk at once.
    void keepDraft() { draft_.flush(); }

signals:
    void showJobs(const std::vector<milehold::core::JobId>& jobs, const QString& why);
    void vehiclePageWanted(milehold::core::VehicleId vehicle);
    void said(const QString& what);

private:
    /// Who may be called is read, the ranking runs on a worker, the first calls are read with their people.
    void refresh();
    void rank(std::vector<core::CallFacts> facts);
    void showRanked();
    void logAnswer(const ui::CallAnswer& answer);
    void keepTyped(core::JobId job);
    void listAnswers();
    void changeAnswer(core::FollowUpId call, std::int64_t revision, const QString& voidReason);
    void askForCalendar();

    ui::CallsPanel& panel_;
    Database& database_;
    Session& session_;
    DraftKeeper draft_;
    QPointer<ui::AnswersDialog> answers_;
    std::vector<core::DueCall> ranked_;
    int newest_ = 0;
};

} // namespace milehold::app
