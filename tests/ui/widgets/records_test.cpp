// SPDX-License-Identifier: GPL-3.0-or-later
#include "ui/theme/theme.h"
#include "ui/widgets/card.h"
#include "ui/widgets/distance_field.h"
#include "ui/widgets/findings.h"
#include "ui/widgets/form_grid.h"
#include "ui/widgets/record_table.h"
#include "ui/widgets/roles.h"
#include "ui/widgets/search_box.h"
#include "ui/widgets/segmented.h"

#include <QApplication>
#include <QClipboard>
#include <QHeaderView>
#include <QLabel>
#include <QPlainTextEdit>
#include <QSignalSpy>
#include <QStandardItemModel>
#include <QTest>
#include <QVBoxLayout>

#include <gtest/gtest.h>

using namespace milehold;
using namespace milehold::ui;

namespace {

/// Known miles as text and number, in an order that neither of them has.
std::unique_ptr<QStandardItemModel> threeJobs() {
    auto model = std::make_unique<QStandardItemModel>(0, 2);
    model->setHorizontalHeaderLabels({"Job", "Known"});
    const std::vector<std::tuple<const char*, const char*, QVariant>> rows = {{"b", "9,000 mi", 9'000},
                                                                              {"a", "118,000 mi", 118'000},
                                                                              {"c", "", QVariant()},
                                                                              {"d", "9,000 mi", 9'000}};
    for (const auto& [id, text, value] : rows) {
        auto* name = new QStandardItem(QString::fromUtf8(id));
        auto* known = new QStandardItem(QString::fromUtf8(text));
        known->setData(value, kSortRole);
        known->setData(QString::fromUtf8(id), kIdRole);
        model->appendRow({name, known});
    }
    return model;
}

QStringList shown(const RecordTable& table) {
    QStringList names;
    for (int row = 0; row < table.model()->rowCount(); ++row)
        names << table.model()->index(row, 0).data().toString();
    return names;
}

} // namespace

TEST(RecordTable, SortsByValueWithTiesByIdAndUnknownLast) {
    const auto model = threeJobs();
    RecordTable table;
    table.setRecords(model.get());
    table.sortByColumn(1, Qt::AscendingOrder);
    EXPECT_EQ(shown(table), (QStringList{"b", "d", "a", "c"})) << "by number, not by text";
    table.setCurrentRecord(1);
    EXPECT_EQ(table.currentRecord(), 1);
    EXPECT_EQ(table.currentIndex().row(), 2);
}

TEST(RecordTable, OpensTheModelsRowWhateverTheSorting) {
    const auto model = threeJobs();
    RecordTable table;
    table.setRecords(model.get());
    table.sortByColumn(1, Qt::AscendingOrder);
    QSignalSpy opened(&table, &RecordTable::opened);
    table.setCurrentIndex(table.model()->index(2, 0));
    QTest::keyClick(&table, Qt::Key_Return);
    ASSERT_EQ(opened.count(), 1);
    EXPECT_EQ(opened.first().first().toInt(), 1);
}

TEST(RecordTable, IsLeftByTab) {
    QWidget window;
    auto* stack = new QVBoxLayout(&window);
    auto* table = new RecordTable(&window);
    auto* next = new QLineEdit(&window);
    stack->addWidget(table);
    stack->addWidget(next);
    const auto model = threeJobs();
    table->setRecords(model.get());
    window.show();
    window.activateWindow();
    ASSERT_TRUE(QTest::qWaitForWindowActive(&window));
    table->setFocus(Qt::TabFocusReason);
    EXPECT_TRUE(table->currentIndex().isValid()) << "arriving by key shows where one is";
    QTest::keyClick(table, Qt::Key_Tab);
    EXPECT_EQ(QApplication::focusWidget(), next);
}

TEST(RecordTable, CopiesChosenRowsAsText) {
    const auto model = threeJobs();
    RecordTable table;
    table.setRecords(model.get());
    table.sortByColumn(0, Qt::AscendingOrder);
    table.selectRow(0);
    QTest::keyClick(&table, Qt::Key_C, Qt::ControlModifier);
    EXPECT_EQ(QApplication::clipboard()->text(), "Job\tKnown\na\t118,000 mi");
    model->item(1, 0)->setText("tab\there");
    EXPECT_EQ(table.chosenAsText().count(u'\t'), 2) << "a tab inside a cell must not make a column";
}

TEST(RecordTable, KeepsRowsThatHoldAllWords) {
    const auto model = threeJobs();
    RecordTable table;
    table.setRecords(model.get());
    table.sortByColumn(0, Qt::AscendingOrder);
    table.setFilterText("9,000  MI d");
    EXPECT_EQ(shown(table), QStringList{"d"});
    table.setFilterText("");
    EXPECT_EQ(table.model()->rowCount(), 4);
}

TEST(FormGrid, GivesEveryLabelItsFieldAndEveryFieldItsName) {
    FormGrid form(2);
    auto* odometer = new DistanceField;
    auto* note = new QPlainTextEdit;
    form.addField("&Odometer", odometer, "odometerOut");
    form.addField("&Note", note, "note", 0);
    EXPECT_EQ(form.labelOf("odometerOut")->buddy(), odometer);
    EXPECT_EQ(odometer->objectName(), "odometerOut");
    EXPECT_EQ(odometer->accessibleName(), "Odometer");
    EXPECT_TRUE(note->tabChangesFocus());
    EXPECT_EQ(form.field("note"), note);
    EXPECT_EQ(form.field("nothing"), nullptr);
}

TEST(FormGrid, ShowsEachFindingAtItsFieldAndGivesTheOthersBack) {
    FormGrid form(2);
    auto* odometer = new DistanceField;
    auto* parts = new QLineEdit;
    form.addField("Odometer", odometer, "odometerOut");
    form.addField("Parts", parts, "parts");
    form.show();
    const core::Finding wrong{"odometerOut", core::Severity::Error, "Less than the odometer in."};
    const core::Finding hint{"odometerOut", core::Severity::Hint, "From the last visit."};
    const core::Finding part{"parts[2].number", core::Severity::Warning, "Superseded."};
    const core::Finding elsewhere{"customer", core::Severity::Warning, "No phone."};
    const core::Findings rest = form.setFindings({hint, wrong, part, elsewhere});
    EXPECT_EQ(rest, core::Findings{elsewhere});
    EXPECT_EQ(theme::fieldStateOf(odometer), FieldState::Error);
    EXPECT_EQ(theme::fieldStateOf(parts), FieldState::Warning);
    EXPECT_EQ(odometer->accessibleDescription(), "Less than the odometer in.");
    const auto findings = form.findChildren<InlineFinding*>();
    ASSERT_EQ(findings.size(), 2);
    EXPECT_TRUE(findings[0]->isVisible());
    EXPECT_GE(findings[0]->y(), odometer->geometry().bottom()) << "under its field";
    form.setFindings({});
    EXPECT_FALSE(findings[0]->isVisible());
    EXPECT_EQ(theme::fieldStateOf(odometer), FieldState::Plain);
    EXPECT_EQ(odometer->accessibleDescription(), "");
    EXPECT_TRUE(form.focusField("parts[0].lot"));
    EXPECT_FALSE(form.focusField("customer"));
}

namespace {

struct SearchBench {
    QWidget window;
    SearchBox* box = new SearchBox(&window);
    QSignalSpy asked{box, &SearchBox::queryChanged};
    QSignalSpy chosen{box, &SearchBox::chosen};

    SearchBench() {
        window.resize(700, 500);
        box->setGeometry(20, 20, 300, 32);
        window.show();
        window.activateWindow();
        EXPECT_TRUE(QTest::qWaitForWindowActive(&window));
        box->setFocus();
    }
    QList<SearchResult> two() const {
        return {{"vehicle", "Plate KLM 204", "Brannik Corrie", "Vehicle", 11},
                {"person", "Kolm, Dita", "555 0137", "Customer", 22}};
    }
};

} // namespace

TEST(SearchBox, AsksAfterARestAndChoosesByKeys) {
    SearchBench bench;
    QTest::keyClicks(bench.box, "klm");
    EXPECT_EQ(bench.asked.count(), 0);
    EXPECT_TRUE(QTest::qWaitFor([&] { return bench.asked.count() == 1; }, 1000));
    EXPECT_EQ(bench.asked.first().first().toString(), "klm");
    bench.box->setResults("klm", bench.two());
    EXPECT_TRUE(bench.box->isOpen());
    EXPECT_TRUE(bench.box->hasFocus()) << "the keyboard stays in the field";
    QTest::keyClick(bench.box, Qt::Key_Down);
    QTest::keyClick(bench.box, Qt::Key_Return);
    ASSERT_EQ(bench.chosen.count(), 1);
    EXPECT_EQ(bench.chosen.first().first().toInt(), 22);
    EXPECT_FALSE(bench.box->isOpen());
    EXPECT_EQ(bench.box->text(), "");
}

TEST(SearchBox, PassesOverAnAnswerToWhatIsNoLongerAsked) {
    SearchBench bench;
    QTest::keyClicks(bench.box, "kl");
    bench.box->setResults("k", bench.two());
    EXPECT_FALSE(bench.box->isOpen());
    EXPECT_EQ(bench.box->resultCount(), 0);
}

TEST(SearchBox, OpensTheFirstResultOfAScanWhenItComes) {
    SearchBench bench;
    QTest::keyClicks(bench.box, "9ZQTW4K18RM004217");
    QTest::keyClick(bench.box, Qt::Key_Return);
    EXPECT_EQ(bench.asked.count(), 1) << "Return does not wait for the rest";
    EXPECT_EQ(bench.chosen.count(), 0);
    bench.box->setResults("9ZQTW4K18RM004217", bench.two());
    ASSERT_EQ(bench.chosen.count(), 1);
    EXPECT_EQ(bench.chosen.first().first().toInt(), 11);
}

TEST(SearchBox, ClosesThenClearsByEscape) {
    SearchBench bench;
    QTest::keyClicks(bench.box, "x");
    bench.box->setResults("x", {});
    EXPECT_TRUE(bench.box->isOpen()) << "it says that nothing was found";
    QTest::keyClick(bench.box, Qt::Key_Escape);
    EXPECT_FALSE(bench.box->isOpen());
    EXPECT_EQ(bench.box->text(), "x");
    QTest::keyClick(bench.box, Qt::Key_Escape);
    EXPECT_EQ(bench.box->text(), "");
}

TEST(EmptyState, AsksForTheFirstStep) {
    EmptyState empty("job", "No job yet", "Scan a VIN to begin.");
    empty.setAction("Log a finished job");
    QSignalSpy wanted(&empty, &EmptyState::actionWanted);
    auto* button = empty.findChild<QPushButton*>();
    ASSERT_NE(button, nullptr);
    button->click();
    EXPECT_EQ(wanted.count(), 1);
}

TEST(BigNumber, SetsAValueSmallerRatherThanCuttingIt) {
    BigNumber number("Cost");
    number.setValue("$12,840.50");
    const int whole = number.sizeHint().width();
    number.resize(whole, 80);
    const auto inkColumns = [&number] {
        const QImage picture = number.grab().toImage();
        const QColor ground = picture.pixelColor(0, 0);
        int last = 0;
        for (int x = 0; x < picture.width(); ++x) {
            for (int y = 22; y < 58; ++y) {
                if (std::abs(picture.pixelColor(x, y).lightness() - ground.lightness()) > 60)
                    last = x;
            }
        }
        return last;
    };
    EXPECT_GT(inkColumns(), whole - 16);
    number.resize(whole - 40, 80);
    const int last = inkColumns();
    EXPECT_LT(last, whole - 40);
    EXPECT_GT(last, whole - 70) << "still all of it";
}
