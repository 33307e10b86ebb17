// SPDX-License-Identifier: GPL-3.0-or-later
#include "app/cli/report_command.h"

#include "app/cli/json_writer.h"
#include "app/cli/shop_input.h"
#include "app/report/month_report.h"
#include "ui/theme/theme.h"

#include <QApplication>
#include <QLocale>
#include <QSaveFile>

#include <CLI/CLI.hpp>

#include <iostream>
#include <memory>

namespace milehold::cli {

using core::ErrorCode;
using core::Result;

namespace {

struct Options {
    ShopInput shop;
    std::string month;
    std::string file;
};

/// `2031-04`; blank is the last whole month before today.
Result<std::chrono::year_month> monthOption(const std::string& text, core::Date today) {
    if (text.empty())
        return std::chrono::year_month{today.year(), today.month()} - std::chrono::months{1};
    const auto first = core::dateFromIso(text + "-01");
    if (!first)
        return core::fail(ErrorCode::InvalidInput, "--month: '" + text + "' is no month; expected YYYY-MM");
    return std::chrono::year_month{first->year(), first->month()};
}

Result<void> writeFile(const std::string& file, const QByteArray& bytes) {
    // Whole or not at all: a report of that name from before stays until the new one is written.
    QSaveFile target(QString::fromStdString(file));
    if (!target.open(QIODevice::WriteOnly) || target.write(bytes) != bytes.size() || !target.commit())
        return core::fail(ErrorCode::DiskProblem,
                          file + ": cannot be written: " + target.errorString().toStdString());
    return {};
}

Result<void> run(Session& session, const Options& options) {
    const auto today = dateOption("--today", options.shop.today, localToday());
    if (!today)
        return core::failureOf(today);
    const auto month = monthOption(options.month, *today);
    if (!month)
        return core::failureOf(month);

    // What Qt remarks on the surroundings is no sentence of ours; standard error is for those.
    qInstallMessageHandler([](QtMsgType type, const QMessageLogContext&, const QString& text) {
        if (type == QtCriticalMsg || type == QtFatalMsg)
            std::cerr << text.toStdString() << '\n';
    });
    // Text and charts are laid out by Qt's painter, which needs no display but wants a program object.
    qputenv("QT_QPA_PLATFORM", "offscreen");
    int argc = 1;
    char name[] = "milehold-cli";
    char* argv[] = {name, nullptr};
    QApplication program(argc, argv);
    if (QLocale::system().language() == QLocale::C)
        QLocale::setDefault(QLocale(QLocale::English, QLocale::UnitedStates));
    ui::theme::apply(program, ui::Scheme::Light);

    return withShop(options.shop, [&](storage::Shop& shop) -> Result<void> {
        const auto report = app::readMonthReport(shop, *month, *today);
        if (!report)
            return core::failureOf(report);
        const auto pdf = app::monthReportPdf(*report);
        if (!pdf)
            return core::failureOf(pdf);
        if (const auto written = writeFile(options.file, *pdf); !written)
            return written;
        if (session.format == Format::Json) {
            JsonWriter json(session.out);
            json.object([&] {
                json.field("file", options.file);
                json.field("month", core::toIso(core::Date{*month / 1}).substr(0, 7));
                json.field("delivered", static_cast<double>(report->report.delivered));
                json.field("came_back", static_cast<double>(report->report.comebacks.size()));
            });
            session.out += '\n';
            return {};
        }
        session.out += options.file + ": the month " + core::toIso(core::Date{*month / 1}).substr(0, 7) +
                       ", " + std::to_string(report->report.delivered) + " repairs delivered, " +
                       std::to_string(report->report.comebacks.size()) + " came back\n";
        return {};
    });
}

} // namespace

Action setUpReport(CLI::App& command) {
    const auto options = std::make_shared<Options>();
    addShopInput(command, options->shop);
    command
        .add_option("--month", options->month, "whose jobs and comebacks are listed (default: last month)")
        ->type_name("YYYY-MM");
    command.add_option("file", options->file, "the PDF to write")->required()->type_name("FILE.pdf");
    return [options](Session& session) { return run(session, *options); };
}

} // namespace milehold::cli
