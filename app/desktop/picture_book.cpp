// SPDX-License-Identifier: GPL-3.0-or-later
#include "app/desktop/picture_book.h"

#include "app/desktop/desk.h"
#include "app/desktop/error_sentence.h"
#include "app/report/month_report.h"
#include "storage/shop.h"
#include "ui/counter/quote_page_dialog.h"
#include "ui/office/owner_topics.h"
#include "ui/paper/paper_device.h"
#include "ui/shell/main_window.h"
#include "ui/theme/theme.h"

#include <QApplication>
#include <QDir>
#include <QFile>
#include <QPixmap>
#include <QTextStream>

#include <utility>

namespace milehold::app {

namespace {
// A page is taken when nothing was read or worked out for so many looks in a row.
constexpr int kStill = 6;
constexpr int kLookEvery = 50;
} // namespace

PictureBook::PictureBook(Desk& desk, const QString& folder, QObject* parent)
    : QObject(parent), desk_(desk), folder_(folder) {
    const auto room = [](const char* name) {
        return Page{QString::fromLatin1(name),
                    [name](Desk& at) { at.window()->showRoom(QString::fromLatin1(name)); }};
    };
    pages_ = {room("bay"), Page{QStringLiteral("job"), [](Desk& at) { at.openNewestJob(); }},
              Page{QStringLiteral("counter"),
                   [](Desk& at) {
                       at.window()->showRoom(QStringLiteral("counter"));
                       at.quoteNewestVehicle();
                   }},
              Page{QStringLiteral("office"), [](Desk& at) {
                       at.window()->showRoom(QStringLiteral("office"));
                       at.showOfficeTopic(ui::OwnerTopic::Curves);
                   }}};
    for (int topic = 1; topic < ui::ownerTopicNames().size(); ++topic)
        pages_.push_back({QStringLiteral("office-%1").arg(topic), [topic](Desk& at) {
                              at.window()->showRoom(QStringLiteral("office"));
                              at.showOfficeTopic(static_cast<ui::OwnerTopic>(topic));
                          }});
    pages_.push_back(room("shelf"));
    quiet_.setInterval(kLookEvery);
    connect(&quiet_, &QTimer::timeout, this, [this] {
        still_ = desk_.isBusy() ? 0 : still_ + 1;
        if (still_ >= kStill)
            step();
    });
}

void PictureBook::start() {
    if (!QDir().mkpath(folder_)) {
        giveUp(folder_, QStringLiteral("the folder for the pictures cannot be made"));
        return;
    }
    desk_.window()->resize(1280, 800);
    quiet_.start();
}

void PictureBook::step() {
    still_ = 0;
    const auto count = static_cast<int>(pages_.size());
    if (page_ >= 0) {
        const QString scheme = page_ < count ? QStringLiteral("light") : QStringLiteral("dark");
        if (!save(pages_[static_cast<std::size_t>(page_ % count)].name + u'-' + scheme))
            return;
    }
    ++page_;
    if (page_ == 2 * count) {
        quiet_.stop();
        if (writeQuotePages())
            writeReport();
        return;
    }
    if (page_ % count == 0)
        ui::theme::apply(*qApp, page_ < count ? ui::Scheme::Light : ui::Scheme::Dark);
    pages_[static_cast<std::size_t>(page_ % count)].turnTo(desk_);
}

bool PictureBook::save(const QString& name) {
    const QString file = QDir(folder_).filePath(name + QStringLiteral(".png"));
    if (desk_.window()->grab().save(file))
        return true;
    giveUp(file, QStringLiteral("the picture cannot be written"));
    return false;
}

bool PictureBook::writeQuotePages() {
    ui::QuotePageDialog* dialog = desk_.openQuotePage();
    if (!dialog)
        return true; // an empty shop quotes nothing
    for (const auto& [paper, name] :
         {std::pair{QPageSize::A4, "quote-a4.pdf"}, std::pair{QPageSize::Letter, "quote-letter.pdf"}}) {
        dialog->setPaper(paper);
        QFile target(QDir(folder_).filePath(QString::fromLatin1(name)));
        if (!target.open(QIODevice::WriteOnly) ||
            !ui::writePdf(dialog->page().flow(), paper, target, dialog->windowTitle())) {
            giveUp(target.fileName(), target.errorString());
            return false;
        }
    }
    return true;
}

void PictureBook::writeReport() {
    const core::Date today = desk_.session().today();
    const auto month = std::chrono::year_month{today.year(), today.month()} - std::chrono::months{1};
    const QString file = QDir(folder_).filePath(QStringLiteral("report.pdf"));
    desk_.database().ask(
        this, [month, today](storage::Shop& shop) { return readMonthReport(shop, month, today); },
        [this, file](const core::Result<MonthReport>& report) {
            const auto pdf =
                report ? monthReportPdf(*report) : core::Result<QByteArray>(core::failureOf(report));
            QFile target(file);
            if (!pdf)
                giveUp(file, sentenceFor(pdf.error()));
            else if (!target.open(QIODevice::WriteOnly) || target.write(*pdf) != pdf->size())
                giveUp(file, target.errorString());
            else
                QCoreApplication::quit();
        });
}

void PictureBook::giveUp(const QString& file, const QString& reason) {
    quiet_.stop();
    QTextStream(stderr) << "milehold: " << file << ": " << reason << "\n";
    QCoreApplication::exit(1);
}

} // namespace milehold::app
