// SPDX-License-Identifier: GPL-3.0-or-later
#include "tests/support/picture.h"
#include "tests/ui/counter/quote_sample.h"
#include "ui/counter/quote_page.h"
#include "ui/counter/quote_page_dialog.h"
#include "ui/paper/paper_device.h"
#include "ui/widgets/text.h"

#include <QDir>
#include <QFile>
#include <QProcess>
#include <QRegularExpression>
#include <QTemporaryDir>

#include <gtest/gtest.h>

namespace milehold::ui {
namespace {

/// A page of a sample.
struct Printed {
    QuotePageContent content;

    Printed(const tests::QuoteSample& sample, int chosen) {
        content.quote = sample.quote();
        content.chosen = chosen;
        content.vehicle = sample.vehicle;
        content.settings = sample.settings;
    }

    /// Writes the PDF into the build folder, so that it can be looked at, and returns its path.
    QString write(const QString& name, QPageSize::PageSizeId paper) {
        // A file a test: two tests that run at once would otherwise write the same one.
        const QString test =
            QString::fromLatin1(::testing::UnitTest::GetInstance()->current_test_info()->name());
        const QString path =
            QStringLiteral("%1/pictures/%2-%3.pdf").arg(QStringLiteral(MILEHOLD_BINARY_DIR), name, test);
        QDir().mkpath(QStringLiteral(MILEHOLD_BINARY_DIR) + QStringLiteral("/pictures"));
        QFile file(path);
        if (!file.open(QIODevice::WriteOnly))
            return {};
        const QuotePage page(content, paper);
        return writePdf(page.flow(), paper, file, QStringLiteral("Repair life")) ? path : QString();
    }
};

/// What a program of poppler-utils prints about a file.
QString output(const QString& program, const QStringList& arguments) {
    QProcess process;
    process.start(program, arguments);
    if (!process.waitForFinished(30'000) || process.exitCode() != 0)
        return {};
    return QString::fromUtf8(process.readAllStandardOutput()).replace(QChar(0x00a0), QChar(u' '));
}

QString flowed(QString text) {
    return text.simplified();
}

TEST(QuotePage, CarriesTheSentenceTheOptionsTheWarrantyAndTheDataDateAsText) {
    Printed printed(tests::usualQuote(), 2);
    for (const auto paper : {QPageSize::A4, QPageSize::Letter}) {
        const QString path = printed.write(
            paper == QPageSize::A4 ? QStringLiteral("quote-a4") : QStringLiteral("quote-letter"), paper);
        ASSERT_FALSE(path.isEmpty());
        const QString text = flowed(output(QStringLiteral("pdftotext"), {path, QStringLiteral("-")}));
        ASSERT_FALSE(text.isEmpty());
        const core::PathQuote& chosen = printed.content.quote.paths[2];
        for (const std::string& part : {chosen.spoken, chosen.details}) {
            const QString said = flowed(withLocalDates(QString::fromStdString(part)));
            EXPECT_FALSE(said.isEmpty());
            EXPECT_TRUE(text.contains(QString(said).replace(QChar(0x00a0), QChar(u' '))))
                << said.toStdString() << " is not in: " << text.toStdString();
        }
        for (const core::PathQuote& option : printed.content.quote.paths) {
            EXPECT_TRUE(text.contains(QString::fromStdString(option.name)));
        }
        EXPECT_TRUE(text.contains(QStringLiteral("Harbour Lane Timing")));
        EXPECT_TRUE(text.contains(QStringLiteral("Expected life, not a warranty")));
        EXPECT_TRUE(text.contains(QStringLiteral("24 months or 24,000 mi, whichever comes first.")));
        EXPECT_TRUE(text.contains(QStringLiteral("4/9/2031")));
        EXPECT_TRUE(
            text.contains(QStringLiteral("Never turn the engine with the timing unlocked: the valves")));
        EXPECT_TRUE(text.contains(QStringLiteral("$2,940.00")));
        EXPECT_TRUE(text.contains(QStringLiteral("7XQLR24T0M8410236")));
    }
}

TEST(QuotePage, NamesTheEngineOfAVehicleThatIsDescribedByWords) {
    Printed printed(tests::usualQuote(), 2);
    printed.content.vehicle.vehicle.reset();
    printed.content.vehicle.modelYear = 2021;
    printed.content.engine = "Larch 2.4";
    const QString path = printed.write(QStringLiteral("quote-by-hand"), QPageSize::A4);
    const QString text = flowed(output(QStringLiteral("pdftotext"), {path, QStringLiteral("-")}));
    EXPECT_TRUE(text.contains(QStringLiteral("A vehicle of model year 2021"))) << text.toStdString();
    EXPECT_TRUE(text.contains(QStringLiteral("engine Larch 2.4"))) << text.toStdString();
}

TEST(QuotePage, SaysTheWarrantyOnceWhereTheWordsHoldItsTerms) {
    Printed printed(tests::usualQuote(), 2);
    printed.content.settings.warrantyTerms = "Two years or 24,000 miles on parts.";
    QString path = printed.write(QStringLiteral("quote-words"), QPageSize::A4);
    QString text = flowed(output(QStringLiteral("pdftotext"), {path, QStringLiteral("-")}));
    EXPECT_TRUE(text.contains(QStringLiteral("The shop's warranty: Two years or 24,000 miles on parts.")));
    EXPECT_FALSE(text.contains(QStringLiteral("24 months")));
    printed.content.settings.warrantyMonths.reset();
    printed.content.settings.warrantyDistance.reset();
    path = printed.write(QStringLiteral("quote-words"), QPageSize::A4);
    text = flowed(output(QStringLiteral("pdftotext"), {path, QStringLiteral("-")}));
    EXPECT_TRUE(text.contains(QStringLiteral("The shop's warranty: Two years or 24,000 miles on parts.")))
        << "where nothing but the words is entered, they are the terms";
}

TEST(QuotePage, IsDrawnWithVectorsOnOneSheetOfTheRightSize) {
    Printed printed(tests::usualQuote(), 2);
    const QString path = printed.write(QStringLiteral("quote-a4"), QPageSize::A4);
    const QStringList images = output(QStringLiteral("pdfimages"), {QStringLiteral("-list"), path})
                                   .split(QChar(u'\n'), Qt::SkipEmptyParts);
    EXPECT_EQ(images.size(), 2) << "only the two lines of the table's head";
    const QString info = output(QStringLiteral("pdfinfo"), {path});
    EXPECT_TRUE(info.contains(QStringLiteral("A4"))) << info.toStdString();
    EXPECT_TRUE(info.contains(QRegularExpression(QStringLiteral("Pages:\\s+1\\b")))) << info.toStdString();
    const QString letter =
        output(QStringLiteral("pdfinfo"), {printed.write(QStringLiteral("quote-letter"), QPageSize::Letter)});
    EXPECT_TRUE(letter.contains(QStringLiteral("letter"))) << letter.toStdString();
    EXPECT_TRUE(letter.contains(QRegularExpression(QStringLiteral("Pages:\\s+1\\b"))))
        << letter.toStdString();
}

TEST(QuotePage, GoesOnToAnotherSheetRatherThanLosingAnything) {
    Printed printed(tests::hugeQuote(), 3);
    const QuotePage page(printed.content, QPageSize::A4);
    EXPECT_GT(page.flow().pageCount(), 1);
    const QString path = printed.write(QStringLiteral("quote-huge"), QPageSize::A4);
    const QString text = flowed(output(QStringLiteral("pdftotext"), {path, QStringLiteral("-")}));
    EXPECT_TRUE(text.contains(QStringLiteral("caution number 9.")));
    EXPECT_TRUE(text.contains(QStringLiteral("page 2 of ")));
    for (int revision = 0; revision < 7; ++revision) {
        EXPECT_TRUE(text.contains(QStringLiteral("revision %1,").arg(revision)));
    }
}

TEST(QuotePage, SaysInWordsThatNoPathApplies) {
    Printed printed(tests::usualQuote(), 0);
    printed.content.quote.paths.clear();
    printed.content.quote.note = "No active repair path applies to this vehicle.";
    const QString path = printed.write(QStringLiteral("quote-none"), QPageSize::A4);
    const QString text = flowed(output(QStringLiteral("pdftotext"), {path, QStringLiteral("-")}));
    EXPECT_TRUE(text.contains(QStringLiteral("No active repair path applies to this vehicle.")));
}

TEST(QuotePage, PromisesNoNumberForTwoRepairs) {
    Printed printed(tests::usualQuote(), 0);
    int few = -1;
    for (std::size_t i = 0; i < printed.content.quote.paths.size(); ++i) {
        if (printed.content.quote.paths[i].lives == 2)
            few = static_cast<int>(i);
    }
    ASSERT_GE(few, 0);
    auto& paths = printed.content.quote.paths;
    paths = {paths[static_cast<std::size_t>(few)]};
    paths[0].curve = {};
    const QString path = printed.write(QStringLiteral("quote-few"), QPageSize::A4);
    const QString text = flowed(output(QStringLiteral("pdftotext"), {path, QStringLiteral("-")}));
    EXPECT_TRUE(text.contains(QStringLiteral("too few to say"), Qt::CaseInsensitive));
    EXPECT_FALSE(text.contains(QStringLiteral("100 %")));
}

TEST(QuotePageDialog, ShowsThePageAndWritesWhatItShows) {
    Printed printed(tests::usualQuote(), 2);
    QuotePageDialog dialog(printed.content);
    EXPECT_EQ(dialog.page().pageSize(), QPageSize(QPageSize::Letter).size(QPageSize::Point))
        << "the tests' locale is American";
    EXPECT_TRUE(tests::keepPicture(dialog, QStringLiteral("quote-preview"), QSize(760, 900)));
    dialog.setPaper(QPageSize::A4);
    QTemporaryDir folder;
    QString said;
    QObject::connect(&dialog, &QuotePageDialog::said, &dialog, [&](const QString& what) { said = what; });
    dialog.savePdf(folder.filePath(QStringLiteral("page.pdf")));
    EXPECT_TRUE(said.contains(QStringLiteral("page.pdf")));
    EXPECT_TRUE(QFile::exists(folder.filePath(QStringLiteral("page.pdf"))));
}

TEST(QuotePageDialog, SaysSoWhenThePdfCannotBeWritten) {
    Printed printed(tests::usualQuote(), 2);
    QuotePageDialog dialog(printed.content);
    QString failed;
    QObject::connect(&dialog, &QuotePageDialog::failed, &dialog, [&](const QString& what) { failed = what; });
    dialog.savePdf(QStringLiteral("/nowhere/at/all/page.pdf"));
    EXPECT_FALSE(failed.isEmpty());
}

} // namespace
} // namespace milehold::ui
