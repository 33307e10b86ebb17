// SPDX-License-Identifier: GPL-3.0-or-later
#include "app/desktop/office_controller.h"

#include "app/desktop/error_sentence.h"
#include "app/desktop/file_dialogs.h"
#include "app/desktop/office_review.h"
#include "app/desktop/worker.h"
#include "app/report/month_report.h"
#include "storage/claim_store.h"
#include "storage/shop.h"
#include "ui/office/report_page.h"

#include <algorithm>
#include <memory>

namespace milehold::app {

namespace {

template <class Record> auto named(const std::vector<Record>& records) {
    std::vector<std::pair<decltype(Record::id), std::string>> names;
    for (const Record& record : records)
        names.emplace_back(record.id, record.name);
    std::sort(names.begin(), names.end(), [](const auto& a, const auto& b) { return a.second < b.second; });
    return names;
}

/// The nearest thousand in the other unit, or hundred where that is too coarse.
std::int64_t roundMark(core::Distance mark, core::DistanceUnit unit) {
    const std::int64_t whole = mark.whole(unit);
    const std::int64_t step = whole >= 10'000 ? 1'000 : 100;
    return std::max<std::int64_t>(step, (whole + step / 2) / step * step);
}

} // namespace

OfficeController::OfficeController(ui::OfficeRoom& room, Database& database, Session& session,
                                   QObject* parent)
    : QObject(parent), room_(room), database_(database), session_(session) {
    connect(&session_, &Session::livesChanged, this, [this] {
        takeLives();
        refresh();
        refreshTopic(room_.topic());
        countClaims();
    });
    connect(&room_, &ui::OfficeRoom::topicWanted, this, &OfficeController::refreshTopic);
    connect(&room_, &ui::OfficeRoom::reportWanted, this, &OfficeController::saveReport);
    connect(&room_, &ui::OfficeRoom::reportChosen, this, [this](int choice) {
        if (room_.topic() == ui::OwnerTopic::Report)
            showReport(choice);
    });
    connect(&session_, &Session::shelfChanged, this, [this] {
        showChoices();
        takeLives();
        refresh();
    });
    connect(&session_, &Session::staffChanged, this, [this] {
        showChoices();
        takeLives();
        refresh();
    });
    connect(&session_, &Session::unitChanged, this, &OfficeController::changeUnit);
    connect(&room_, &ui::OfficeRoom::queryChanged, this, &OfficeController::refresh);
    connect(&room_, &ui::OfficeRoom::jobsWanted, this, &OfficeController::showJobs);
    connect(&room_, &ui::OfficeRoom::logJobWanted, this, &OfficeController::logJobWanted);
    connect(&room_, &ui::OfficeRoom::exportWanted, this, &OfficeController::askWhere);
    showChoices();
    takeLives();
    changeUnit();
    countClaims();
}

void OfficeController::takeLives() {
    const auto records = session_.lives();
    letGo(std::move(lives_));
    lives_ = std::make_shared<const OfficeLives>(std::span<const core::LifeRecord>(*records), records,
                                                 session_.shelf(), session_.staff());
}

void OfficeController::showChoices() {
    ui::OfficeChoices choices;
    choices.families = named(session_.shelf()->families);
    choices.paths = named(session_.shelf()->paths);
    for (const core::Staff& person : session_.staff()) {
        if (person.technician)
            choices.technicians.emplace_back(person.id, person.name);
    }
    choices.today = session_.today();
    room_.setChoices(choices);
}

void OfficeController::changeUnit() {
    ui::OfficeQuery query = room_.query();
    const core::DistanceUnit before = query.unit;
    query.unit = session_.unit();
    if (query.mark > 0 && before != query.unit) {
        query.mark = roundMark(core::Distance::from(query.mark, before), query.unit);
    }
    room_.setQuery(query);
    refresh();
}

void OfficeController::refresh() {
    const int ticket = ++newest_;
    room_.setBusy(true);
    onWorker(
        this, [lives = lives_, query = room_.query()] { return reviewLives(*lives, query); },
        [this, ticket](core::Result<ui::OfficeView> view) {
            if (ticket != newest_)
                return;
            if (view) {
                room_.setView(std::make_shared<const ui::OfficeView>(std::move(*view)));
                if (room_.topic() == ui::OwnerTopic::Evidence)
                    refreshTopic(ui::OwnerTopic::Evidence);
            } else
                room_.setProblem(sentenceFor(view.error()));
        });
}

void OfficeController::refreshTopic(ui::OwnerTopic topic) {
    const int ticket = ++newestTopic_;
    switch (topic) {
    case ui::OwnerTopic::Curves:
        return;
    case ui::OwnerTopic::Report:
        showReport(reportChoice_);
        return;
    case ui::OwnerTopic::Evidence:
        if (room_.view())
            room_.setPage(topic, ui::evidencePage(*room_.view()));
        return;
    default:
        break;
    }
    room_.setBusy(true);
    database_.askNewest(
        QStringLiteral("office topic"), this,
        [topic](storage::Shop& shop) { return readOwnerRecords(shop, topic); },
        [this, ticket, topic](core::Result<OwnerRecords> records) {
            if (ticket != newestTopic_)
                return;
            if (!records) {
                room_.setPage(topic, {sentenceFor(records.error()), {}, {}, {}, {}});
                return;
            }
            workOut(topic, std::move(*records));
        });
}

void OfficeController::workOut(ui::OwnerTopic topic, OwnerRecords records) {
    const int ticket = newestTopic_;
    onWorker(
        this,
        [topic, records = std::move(records), lives = session_.lives(), shelf = session_.shelf(),
         staff = session_.staff(), settings = session_.settings(), unit = session_.unit(),
         today = session_.today()] {
            return ownerPage(topic, {*lives, {*shelf, staff}, settings, unit, today}, records);
        },
        [this, ticket, topic](const ui::OwnerPageData& page) {
            if (ticket == newestTopic_)
                room_.setPage(topic, page);
        });
}

void OfficeController::showReport(int choice) {
    const int ticket = ++newestTopic_;
    reportChoice_ = choice;
    if (!room_.page(ui::OwnerTopic::Report).sheets)
        room_.setPage(ui::OwnerTopic::Report, ui::reportPage(session_.today()));
    room_.setBusy(true);
    const core::Date today = session_.today();
    const auto month = ui::reportMonth(today, choice);
    const auto fail = [this](const core::Error& error) {
        auto page = ui::reportPage(session_.today());
        page.lead = sentenceFor(error);
        room_.setPage(ui::OwnerTopic::Report, page);
    };
    database_.askNewest(
        QStringLiteral("office topic"), this,
        [month](storage::Shop& shop) { return readMonthRecords(shop, month); },
        [this, ticket, month, today, fail](core::Result<MonthRecords> records) {
            if (ticket != newestTopic_)
                return;
            if (!records)
                return fail(records.error());
            onWorker(
                this,
                [records = std::move(*records), lives = session_.lives(), shelf = session_.shelf(),
                 settings = session_.settings(), month,
                 today] { return makeMonthReport(*lives, *shelf, settings, records, month, today); },
                [this, ticket, fail](const core::Result<MonthReport>& report) {
                    if (ticket != newestTopic_)
                        return;
                    if (!report)
                        return fail(report.error());
                    auto page = ui::reportPage(session_.today());
                    page.sheets = monthReportSheets(*report);
                    room_.setPage(ui::OwnerTopic::Report, page);
                });
        });
}

void OfficeController::countClaims() {
    database_.askNewest(
        QStringLiteral("office claims"), this,
        [until = core::addDays(session_.today(), core::kClaimNearDays)](storage::Shop& shop) {
            return storage::ClaimStore(shop).dueBy(until);
        },
        [this](const core::Result<int>& due) {
            if (due)
                room_.setClaimsDue(*due);
        });
}

void OfficeController::saveReport(int choice) {
    const core::Date today = session_.today();
    const auto month = ui::reportMonth(today, choice);
    const QString name = tr("report %1-%2.pdf")
                             .arg(static_cast<int>(month.year()))
                             .arg(static_cast<unsigned>(month.month()), 2, 10, QChar(u'0'));
    const QString path = askWhereToSave(&room_, tr("Save the report"), name);
    if (path.isEmpty())
        return;
    database_.ask(
        this, [month, today](storage::Shop& shop) { return readMonthReport(shop, month, today); },
        [this, path](const core::Result<MonthReport>& report) {
            const auto pdf =
                report ? monthReportPdf(*report) : core::Result<QByteArray>(core::failureOf(report));
            if (!pdf) {
                emit said(sentenceFor(pdf.error()));
                return;
            }
            sayWritten(path, writeFile(path, *pdf));
        });
}

void OfficeController::askWhere(ui::OfficeRoom::Export what) {
    using Export = ui::OfficeRoom::Export;
    const bool isTable = what == Export::GroupsCsv || what == Export::StepsCsv;
    const QString suffix = isTable                    ? QStringLiteral("csv")
                           : what == Export::ChartPng ? QStringLiteral("png")
                                                      : QStringLiteral("pdf");
    const QString path =
        askWhereToSave(&room_, tr("Save what is shown"), tr("repair life") + QChar(u'.') + suffix);
    if (!path.isEmpty())
        saveTo(path, what);
}

void OfficeController::saveTo(const QString& path, ui::OfficeRoom::Export what) {
    sayWritten(path, writeFile(path, room_.exported(what)));
}

void OfficeController::sayWritten(const QString& path, const QString& problem) {
    emit said(problem.isEmpty() ? tr("Saved: %1").arg(path) : tr("Not saved: %1").arg(problem));
}

} // namespace milehold::app
