// SPDX-License-Identifier: GPL-3.0-or-later
#include "app/desktop/exchange_controller.h"

#include "app/desktop/error_sentence.h"
#include "app/desktop/file_dialogs.h"
#include "app/desktop/shown_list.h"
#include "storage/exchange/exchange_store.h"
#include "storage/exchange/records_file.h"
#include "storage/exchange/shop_lives.h"
#include "storage/shop.h"
#include "ui/records/export_dialog.h"
#include "ui/records/import_dialog.h"
#include "ui/shell/main_window.h"
#include "ui/widgets/record_table.h"
#include "ui/widgets/text.h"

#include <QDir>
#include <QFileInfo>

#include <array>
#include <sstream>

namespace milehold::app {

namespace {

using storage::RecordFile;
using What = ui::ExportDialog::What;

constexpr std::array kKinds = {RecordFile::Customers, RecordFile::Vehicles, RecordFile::Jobs,
                               RecordFile::FollowUps, RecordFile::Odometers};
constexpr std::size_t kPreviewRows = 6;
constexpr int kMostFaults = 1'000; ///< that are listed

QStringList toList(const std::vector<std::string>& words) {
    QStringList list;
    for (const auto& word : words)
        list << ui::toText(word);
    return list;
}

QStringList requiredOf(RecordFile file) {
    switch (file) {
    case RecordFile::Customers:
        return {QStringLiteral("name")};
    case RecordFile::Jobs:
        return {QStringLiteral("written_up")};
    case RecordFile::FollowUps:
        return {QStringLiteral("date"), QStringLiteral("outcome")};
    case RecordFile::Odometers:
        return {QStringLiteral("date"), QStringLiteral("odometer")};
    case RecordFile::Vehicles:
        break;
    }
    return {};
}

ui::ImportOutcome outcomeOf(const storage::ImportReport& report) {
    ui::ImportOutcome outcome;
    outcome.rows = static_cast<int>(report.rows);
    outcome.added = static_cast<int>(report.added);
    outcome.changed = static_cast<int>(report.changed);
    outcome.there = static_cast<int>(report.there);
    outcome.kept = report.kept;
    for (const auto& bad : report.bad) {
        if (outcome.faults.size() == kMostFaults)
            break;
        outcome.faults.append({QString::number(bad.line), ui::toText(bad.column), ui::toText(bad.what)});
    }
    return outcome;
}

std::string fileNameOf(What what) {
    switch (what) {
    case What::ScreenList:
        return "list";
    case What::Lives:
        return "lives";
    case What::Jobs:
        return "jobs";
    case What::Vehicles:
        return "vehicles";
    case What::Customers:
        return "customers";
    case What::FollowUps:
        return "follow-ups";
    case What::Odometers:
        break;
    }
    return "odometers";
}

core::Result<std::size_t> write(storage::Shop& shop, What what, bool withPeople, core::Date today,
                                const ShownList& list, storage::TableSink& sink) {
    if (what == What::ScreenList)
        return writeList(shop, list, sink);
    if (what == What::Lives)
        return storage::exportLives(shop, {.today = today}, sink);
    const auto file = storage::recordFileFromCode(fileNameOf(what));
    return storage::exportRecords(shop, *file, sink, {.anonymous = !withPeople});
}

core::Result<std::size_t> saveBytes(const QString& path, const std::string& bytes, std::size_t rows) {
    if (!writeFile(path, QByteArray::fromStdString(bytes)).isEmpty())
        return core::fail(core::ErrorCode::DiskProblem, "the file cannot be written there");
    return rows;
}

} // namespace

ExchangeController::ExchangeController(ui::MainWindow& window, Database& database, Session& session,
                                       QObject* parent)
    : QObject(parent), window_(window), database_(database), session_(session) {}

ui::ImportDialog* ExchangeController::importTable() {
    import_ = new ui::ImportDialog(&window_);
    import_->setAttribute(Qt::WA_DeleteOnClose);
    file_.clear();
    connect(import_, &ui::ImportDialog::fileWanted, this, [this] {
        const QStringList chosen = askForFiles(import_, tr("A table to import"), QDir::homePath(),
                                               tr("Comma-separated (*.csv);;All files (*)"));
        if (!chosen.isEmpty())
            chooseFile(chosen.constFirst());
    });
    connect(import_, &ui::ImportDialog::kindChanged, this, &ExchangeController::readStart);
    connect(import_, &ui::ImportDialog::trialWanted, this, [this] { run(true); });
    connect(import_, &ui::ImportDialog::importWanted, this, [this] { run(false); });
    import_->open();
    return import_;
}

void ExchangeController::chooseFile(const QString& path) {
    file_ = path;
    readStart();
}

void ExchangeController::readStart() {
    if (file_.isEmpty() || import_ == nullptr)
        return;
    const RecordFile kind = kKinds.at(static_cast<std::size_t>(import_->kind()));
    const std::string name = ui::toUtf8(QFileInfo(file_).fileName());
    auto source = storage::openBytes(file_.toStdString());
    auto start = source ? storage::readStart(std::move(*source), name, kPreviewRows)
                        : core::Result<storage::TableStart>(core::failureOf(source));
    if (!start) {
        ui::ImportOutcome outcome;
        outcome.trouble = ui::toText(start.error().detail);
        import_->setOutcome(outcome);
        return;
    }
    ui::ImportStart shown;
    shown.fileName = ui::toText(name);
    shown.header = toList(start->header);
    for (const auto& row : start->rows)
        shown.rows.append(toList(row));
    shown.columns = toList(storage::columnsOf(kind));
    shown.required = requiredOf(kind);
    shown.guessed = toList(storage::guessColumns(kind, start->header));
    import_->setStart(shown);
}

void ExchangeController::run(bool trial) {
    storage::ImportOptions options;
    options.dryRun = trial;
    options.update = import_->replaces();
    options.goodRowsOnly = import_->goodRowsOnly();
    std::vector<std::string> columns;
    for (const QString& column : import_->columns())
        columns.push_back(ui::toUtf8(column));
    options.columns = std::move(columns);
    const RecordFile kind = kKinds.at(static_cast<std::size_t>(import_->kind()));
    import_->setBusy(trial ? tr("Trying every row") : tr("Backing up, then importing"));
    database_.ask(
        this,
        [options, kind, file = file_.toStdString(), name = ui::toUtf8(QFileInfo(file_).fileName())](
            storage::Shop& shop) -> core::Result<storage::ImportReport> {
            auto source = storage::openBytes(file);
            if (!source)
                return core::failureOf(source);
            if (!options.dryRun) {
                auto kept = shop.backUp(storage::BackupReason::BeforeImport);
                if (!kept && kept.error().code != core::ErrorCode::Unsupported)
                    return core::failureOf(kept);
            }
            return storage::importRecords(shop, kind, std::move(*source), name, options);
        },
        [this, trial](core::Result<storage::ImportReport> report) {
            ui::ImportOutcome outcome;
            if (report)
                outcome = outcomeOf(*report);
            else if (report.error().code == core::ErrorCode::InvalidInput)
                outcome.trouble = ui::toText(report.error().detail);
            else
                outcome.trouble = sentenceFor(report.error());
            if (import_ != nullptr)
                import_->setOutcome(outcome);
            if (!trial && outcome.kept) {
                emit said(tr("Imported: %1 new, %2 changed").arg(outcome.added).arg(outcome.changed));
                database_.announceChange();
            }
        });
}

ui::RecordTable* ExchangeController::shownList() const {
    const QWidget* room = window_.room(window_.currentRoom());
    if (room == nullptr)
        return nullptr;
    ui::RecordTable* shown = nullptr;
    for (auto* table : room->findChildren<ui::RecordTable*>()) {
        if (table->isVisible() && (shown == nullptr || table->hasFocus()))
            shown = table;
    }
    return shown;
}

ui::ExportDialog* ExchangeController::exportTable() {
    const auto* list = shownList();
    QString name;
    if (list != nullptr)
        name = list->accessibleName().isEmpty() ? tr("as it is shown") : list->accessibleName();
    auto* dialog = new ui::ExportDialog(name, &window_);
    dialog->setAttribute(Qt::WA_DeleteOnClose);
    connect(dialog, &QDialog::accepted, this, [this, dialog] {
        const QString suffix = dialog->asWorkbook() ? QStringLiteral("xlsx") : QStringLiteral("csv");
        const QString path = askWhereToSave(&window_, tr("Where to keep the table"),
                                            ui::toText(fileNameOf(dialog->what())) + QChar(u'.') + suffix);
        if (!path.isEmpty())
            exportTo(path, *dialog);
    });
    dialog->open();
    return dialog;
}

void ExchangeController::exportTo(const QString& path, const ui::ExportDialog& dialog) {
    const auto* shown = shownList();
    const ShownList list = shown != nullptr ? readList(*shown) : ShownList();
    database_.ask(
        this,
        [path, list, what = dialog.what(), workbook = dialog.asWorkbook(), people = dialog.withPeople(),
         today = session_.today()](storage::Shop& shop) -> core::Result<std::size_t> {
            std::ostringstream text;
            storage::CsvSink csv(text);
            storage::XlsxSink xlsx(fileNameOf(what));
            auto rows = workbook ? write(shop, what, people, today, list, xlsx)
                                 : write(shop, what, people, today, list, csv);
            if (!rows)
                return rows;
            return saveBytes(path, workbook ? xlsx.bytes() : text.str(), *rows);
        },
        [this](core::Result<std::size_t> rows) {
            if (!rows)
                emit needsAttention(tr("Not exported. %1").arg(sentenceFor(rows.error())));
            else
                emit said(tr("Rows exported: %1").arg(*rows));
        });
}

} // namespace milehold::app
