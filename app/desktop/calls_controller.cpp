// SPDX-License-Identifier: GPL-3.0-or-later
#include "app/desktop/calls_controller.h"

#include "app/desktop/call_list.h"
#include "app/desktop/error_sentence.h"
#include "app/desktop/file_dialogs.h"
#include "app/desktop/worker.h"
#include "core/life/call_calendar.h"
#include "core/shop/validation.h"
#include "storage/backup_shelf.h"
#include "storage/machine_clock.h"
#include "storage/make_id.h"
#include "storage/shop.h"
#include "ui/counter/answers_dialog.h"
#include "ui/counter/call_sheet_dialog.h"
#include "ui/counter/call_words.h"
#include "ui/counter/calls_panel.h"
#include "ui/widgets/text.h"

#include <memory>

namespace milehold::app {

namespace {

constexpr std::size_t kMostCalls = 40;
constexpr std::size_t kMostAnswers = 100;

struct Logged {
    core::FollowUp answer;
    std::string doubt; ///< not blank: asked about, and not stored
};

/// What a person should look at again before this answer moves any curve; blank where nothing is odd.
core::Result<std::string> doubtOf(storage::Shop& shop, const core::FollowUp& told) {
    const bool isRead = told.odometer && !told.odometerEstimated;
    const bool isUndated =
        told.outcome == core::FollowUpOutcome::NoiseBack && !told.odometer && !told.noiseSince;
    if (isUndated)
        return std::string(
            "Without an odometer the comeback stands at our estimate until the vehicle is seen.");
    if (!isRead)
        return std::string();
    const auto job = shop.jobs().find(told.job);
    if (!job)
        return core::failureOf(job);
    const auto history = shop.vehicles().history(job->vehicle);
    if (!history)
        return core::failureOf(history);
    for (const core::Finding& finding : core::validate(told, *history))
        if (finding.severity == core::Severity::Warning && finding.field == "odometer")
            return finding.message;
    return std::string();
}

/// Stores an answer and forgets its draft. A commit whose outcome nobody knows is looked up.
core::Result<core::FollowUp> storeAnswer(storage::Shop& shop, const core::FollowUp& told) {
    auto saved = shop.followUps().save(told);
    if (!saved && saved.error().code == core::ErrorCode::OutcomeUnknown)
        if (auto found = shop.followUps().find(told.id))
            saved = std::move(found);
    if (saved)
        static_cast<void>(shop.drafts().drop(callDraftKey(told.job)));
    return saved;
}

} // namespace

CallsController::CallsController(ui::CallsPanel& panel, Database& database, Session& session, QObject* parent)
    : QObject(parent), panel_(panel), database_(database), session_(session), draft_(database) {
    for (const auto changed : {&Session::livesChanged, &Session::shelfChanged})
        connect(&session_, changed, this, &CallsController::refresh);
    connect(&session_, &Session::unitChanged, this, [this] {
        panel_.setUnit(session_.unit());
        refresh();
    });
    connect(&panel_, &ui::CallsPanel::answered, this, &CallsController::logAnswer);
    connect(&panel_, &ui::CallsPanel::typedInto, this, &CallsController::keepTyped);
    connect(&panel_, &ui::CallsPanel::viewWanted, this, &CallsController::showRanked);
    connect(&panel_, &ui::CallsPanel::sheetWanted, this, &CallsController::openSheet);
    connect(&panel_, &ui::CallsPanel::calendarWanted, this, &CallsController::askForCalendar);
    connect(&panel_, &ui::CallsPanel::answersWanted, this, &CallsController::openAnswers);
    connect(&panel_, &ui::CallsPanel::vehicleWanted, this, &CallsController::vehiclePageWanted);
    connect(&panel_, &ui::CallsPanel::jobWanted, this,
            [this](core::JobId job) { emit showJobs({job}, tr("The job of a call to make")); });
    connect(&draft_, &DraftKeeper::failed, this,
            [this](const core::Error& error) { emit said(sentenceFor(error)); });
    panel_.setUnit(session_.unit());
    refresh();
}

void CallsController::refresh() {
    panel_.setToday(session_.today());
    database_.askNewest(
        QStringLiteral("call facts"), this,
        [today = session_.today()](storage::Shop& shop) { return shop.followUps().callFacts(today); },
        [this](core::Result<std::vector<core::CallFacts>> facts) {
            if (facts) {
                rank(std::move(*facts));
            } else if (facts.error().code != core::ErrorCode::NotFound) {
                emit said(sentenceFor(facts.error()));
            }
        });
}

void CallsController::rank(std::vector<core::CallFacts> facts) {
    const int ticket = ++newest_;
    core::CallOptions options;
    options.unit = session_.unit();
    options.today = session_.today();
    onWorker(
        this,
        [lives = session_.lives(), shelf = session_.shelf(), staff = session_.staff(),
         facts = std::move(facts), options]() -> core::Result<std::vector<core::DueCall>> {
            auto ranked = core::rankCalls(*lives, facts, core::FacetNames{*shelf, staff}, options);
            if (!ranked)
                return core::failureOf(ranked);
            return core::withDueMarks(std::move(*ranked), *lives, options.unit, options.today);
        },
        [this, ticket](core::Result<std::vector<core::DueCall>> ranked) {
            if (ticket != newest_)
                return;
            if (!ranked) {
                emit said(sentenceFor(ranked.error()));
                return;
            }
            ranked_ = std::move(*ranked);
            showRanked();
        });
}

void CallsController::showRanked() {
    auto picked = core::pickCalls(ranked_, panel_.view());
    const std::size_t all = picked.size();
    database_.askNewest(
        QStringLiteral("calls"), this,
        [picked = std::move(picked), shelf = session_.shelf(), today = session_.today()](
            storage::Shop& shop) { return readCalls(shop, *shelf, picked, kMostCalls, today); },
        [this, all](core::Result<std::vector<ui::CallToMake>> calls) {
            if (calls)
                panel_.setCalls(std::move(*calls), all);
            else
                emit said(sentenceFor(calls.error()));
        });
}

void CallsController::keepTyped(core::JobId job) {
    // The same call goes on being watched, so that its draft is not written anew at every letter.
    const std::string key = callDraftKey(job);
    if (draft_.form() != key)
        draft_.watch(key, [this] {
            const ui::CallTyped typed = panel_.typed();
            return typed.empty() ? std::string() : callDraftText(typed);
        });
    draft_.touch();
}

void CallsController::logAnswer(const ui::CallAnswer& answer) {
    core::FollowUp told = followUpOf(answer, session_.today(), session_.who());
    told.id = storage::makeId<core::FollowUpId>();
    QString who;
    for (const ui::CallToMake& call : panel_.calls())
        if (call.call.job == answer.job)
            who = ui::toText(call.customer);
    database_.ask(
        this,
        [told, isSure = answer.isSure](storage::Shop& shop) -> core::Result<Logged> {
            if (!isSure) {
                auto doubt = doubtOf(shop, told);
                if (!doubt)
                    return core::failureOf(doubt);
                if (!doubt->empty())
                    return Logged{told, std::move(*doubt)};
            }
            auto saved = storeAnswer(shop, told);
            if (!saved)
                return core::failureOf(saved);
            return Logged{std::move(*saved), {}};
        },
        [this, who](core::Result<Logged> logged) {
            if (!logged) {
                panel_.answerFailed();
                emit said(tr("The answer is not logged. %1").arg(sentenceFor(logged.error())));
                return;
            }
            const core::FollowUp& saved = logged->answer;
            if (!logged->doubt.empty()) {
                panel_.answerDoubted(saved.outcome, ui::withLocalDates(ui::toText(logged->doubt)));
                return;
            }
            if (draft_.form() == callDraftKey(saved.job))
                draft_.drop();
            panel_.answerKept(saved.job);
            const QString what = ui::callOutcome(saved.outcome).name();
            emit said(
                saved.callOn
                    ? tr("Logged: %1, call again on %2. Undo: Ctrl+Z").arg(who, ui::dateText(*saved.callOn))
                    : tr("Logged: %1, %2. Undo: Ctrl+Z").arg(who, what));
            database_.announceChange();
        });
}

ui::CallSheetDialog* CallsController::openSheet() {
    if (panel_.calls().empty())
        return nullptr;
    auto* dialog = new ui::CallSheetDialog(
        {panel_.calls(), session_.settings().name, session_.today(), session_.unit()}, &panel_);
    dialog->setAttribute(Qt::WA_DeleteOnClose);
    connect(dialog, &ui::CallSheetDialog::said, this, &CallsController::said);
    connect(dialog, &ui::CallSheetDialog::pdfWanted, dialog, [dialog] {
        const QString path =
            askWhereToSave(dialog, tr("Keep the call sheet as a PDF"), dialog->suggestedName());
        if (!path.isEmpty())
            dialog->savePdf(path);
    });
    dialog->open();
    return dialog;
}

ui::AnswersDialog* CallsController::openAnswers() {
    auto* dialog = new ui::AnswersDialog(session_.unit(), &panel_);
    dialog->setAttribute(Qt::WA_DeleteOnClose);
    answers_ = dialog;
    connect(dialog, &ui::AnswersDialog::voidWanted, this, &CallsController::changeAnswer);
    connect(dialog, &ui::AnswersDialog::countAgainWanted, this,
            [this](core::FollowUpId call, qint64 revision) { changeAnswer(call, revision, {}); });
    connect(dialog, &ui::AnswersDialog::jobWanted, this, [this, dialog](core::JobId job) {
        dialog->close();
        emit showJobs({job}, tr("The job of an answer"));
    });
    listAnswers();
    dialog->open();
    return dialog;
}

void CallsController::listAnswers() {
    database_.ask(
        this,
        [staff = session_.staff()](storage::Shop& shop) { return readAnswers(shop, staff, kMostAnswers); },
        [this](core::Result<std::vector<ui::LoggedAnswer>> answers) {
            if (!answers)
                emit said(sentenceFor(answers.error()));
            else if (answers_)
                answers_->setAnswers(std::move(*answers));
        });
}

/// Voids it with a reason, or lets it count again without one.
void CallsController::changeAnswer(core::FollowUpId call, std::int64_t revision, const QString& voidReason) {
    database_.ask(
        this,
        [call, revision, reason = ui::toUtf8(voidReason)](storage::Shop& shop) {
            return voidOrCount(shop, call, revision, reason);
        },
        [this](const core::Result<core::FollowUp>& saved) {
            if (!saved) {
                emit said(sentenceFor(saved.error()));
            } else {
                emit said(saved->isVoid() ? tr("The answer is void and out of every figure. Undo: Ctrl+Z")
                                          : tr("The answer counts again. Undo: Ctrl+Z"));
                database_.announceChange();
            }
            listAnswers();
        });
}

core::Result<std::string> CallsController::calendar(core::Moment madeAt) const {
    const auto& calls = panel_.calls();
    const auto days = core::callDays(calls.size(), session_.today());
    std::vector<core::CalendarCall> entries;
    for (std::size_t i = 0; i < calls.size(); ++i) {
        const ui::CallToMake& call = calls[i];
        core::CalendarCall entry;
        entry.job = call.call.job;
        entry.on = days[i];
        const QString phone = call.phones.empty() ? tr("no phone") : ui::toText(call.phones.front());
        entry.summary = ui::toUtf8(tr("Call %1, %2").arg(ui::toText(call.customer), phone));
        QStringList lines{tr("%1, job %2").arg(ui::toText(call.vehicle)).arg(call.jobNumber)};
        if (!call.bestTime.empty())
            lines << tr("Best time: %1").arg(ui::toText(call.bestTime));
        entry.description = ui::toUtf8(lines.join(QLatin1Char('\n')));
        entries.push_back(std::move(entry));
    }
    return core::callCalendar(entries, madeAt);
}

void CallsController::askForCalendar() {
    const QString name = tr("calls %1.ics").arg(ui::toText(core::toIso(session_.today())));
    const QString path =
        askWhereToSave(&panel_, tr("Keep the calls as a calendar file"), name, tr("Calendar (*.ics)"));
    if (!path.isEmpty())
        saveCalendar(path);
}

void CallsController::saveCalendar(const QString& path) {
    const auto text = calendar(storage::machineNow());
    if (!text) {
        emit said(sentenceFor(text.error()));
        return;
    }
    const QString problem = writeFile(path, QByteArray::fromStdString(*text));
    emit said(problem.isEmpty() ? tr("Saved: %1").arg(path)
                                : tr("The calendar file could not be written: %1").arg(problem));
}

} // namespace milehold::app
