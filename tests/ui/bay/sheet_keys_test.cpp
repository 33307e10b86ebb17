// SPDX-License-Identifier: GPL-3.0-or-later
#include "tests/support/bay_sample.h"
#include "tests/support/picture.h"
#include "ui/bay/job_form.h"
#include "ui/bay/job_list.h"
#include "ui/bay/job_sheet.h"
#include "ui/shell/enter_presses.h"
#include "ui/widgets/findings.h"
#include "ui/widgets/record_table.h"

#include <QApplication>
#include <QLabel>
#include <QLineEdit>
#include <QPushButton>
#include <QScrollArea>
#include <QScrollBar>
#include <QTest>

#include <gtest/gtest.h>

#include <map>

namespace milehold::ui {
namespace {

/// A new finished repair on a known vehicle, as the Bay opens it.
JobCard newRepair(const BayContext& context) {
    JobCard card{{}, tests::vehicleWithEverything(3), std::nullopt};
    card.vehicle.revision = 1;
    card.job.vehicle = card.vehicle.id;
    card.job.writtenUp = context.today;
    card.job.delivered = context.today;
    return card;
}

class SheetKeys : public ::testing::Test {
protected:
    void SetUp() override {
        sheet_.setContext(context_);
        sheet_.resize(1180, 720);
        sheet_.open(newRepair(context_), newRepair(context_), {}, {});
        sheet_.show();
        sheet_.activateWindow();
        ASSERT_TRUE(QTest::qWaitForWindowActive(&sheet_));
        form_ = sheet_.findChild<JobForm*>();
        ASSERT_NE(form_, nullptr);
    }

    QLineEdit* field(const char* name) const { return sheet_.findChild<QLineEdit*>(QLatin1String(name)); }

    BayContext context_ = tests::sampleContext();
    JobSheet sheet_;
    JobForm* form_ = nullptr;
};

TEST_F(SheetKeys, TheCostsOfAComebackByKindAndItsClaimAreReachedByTabAsTheyAreRead) {
    JobCard card = newRepair(context_);
    card.job.comebackDecision = core::ComebackDecision::Workmanship;
    card.job.comebackCosts = {{12'750}, {8'801}, {}, {9'500}, {}, {6'000}};
    card.job.claimState = core::ClaimState::ToFile;
    card.job.claimDeadline = core::addDays(context_.today, 20);
    sheet_.open(card, card, {}, {});
    auto* unfold = sheet_.findChild<QPushButton*>(QStringLiteral("comebackCosts"));
    ASSERT_NE(unfold, nullptr);
    // By hand: 127.50 + 88.01 + 95.00 - 60.00.
    EXPECT_TRUE(unfold->text().contains(QStringLiteral("250.51"))) << unfold->text().toStdString();
    EXPECT_TRUE(unfold->text().contains(QStringLiteral("to be filed by"))) << unfold->text().toStdString();
    unfold->click();
    auto* payer = sheet_.findChild<QWidget*>(QStringLiteral("payer"));
    payer->setFocus();
    QStringList reached{payer->objectName()};
    for (int i = 0; i < 11; ++i) {
        QTest::keyClick(QApplication::focusWidget(), Qt::Key_Tab);
        reached << QApplication::focusWidget()->objectName();
    }
    EXPECT_EQ(
        reached.join(QChar(u' ')),
        QStringLiteral("payer comebackCosts.labour comebackCosts.parts comebackCosts.rental "
                       "comebackCosts.towing comebackCosts.goodwill comebackCost claimState claimDeadline "
                       "claimNumber claimAmount comebackCosts.credit"));
    EXPECT_TRUE(tests::keepPictures(sheet_, QStringLiteral("bay-comeback-costs"), QSize(1180, 700)));
    QLineEdit* towing = field("comebackCosts.towing");
    towing->setFocus();
    towing->selectAll();
    QTest::keyClicks(towing, QStringLiteral("120"));
    EXPECT_EQ(form_->card().job.comebackCosts.towing, core::Money{12'000});
    EXPECT_EQ(form_->card().job.comebackCosts.labour, core::Money{12'750}) << "the others stay";
}

TEST_F(SheetKeys, NoTwoVisibleLabelsShareALetter) {
    form_->setVehicleShown(true);
    std::map<QString, QString> labels;
    for (const QLabel* label : sheet_.findChildren<QLabel*>()) {
        const auto at = label->text().indexOf(QChar('&'));
        if (!label->isVisible() || !label->buddy() || at < 0)
            continue;
        const QString letter = label->text().mid(at + 1, 1).toUpper();
        EXPECT_TRUE(labels.emplace(letter, label->text()).second)
            << "Alt+" << letter.toStdString() << " goes to \"" << labels[letter].toStdString()
            << "\" and to \"" << label->text().toStdString() << "\"";
    }
    EXPECT_GT(labels.size(), 8u);
}

TEST_F(SheetKeys, ALetterLeadsToTheDeliveryCheck) {
    QTest::keyClick(QApplication::focusWidget(), Qt::Key_V, Qt::AltModifier);
    QWidget* check = sheet_.findChild<QWidget*>(QStringLiteral("deliveryCheck"));
    ASSERT_NE(check, nullptr);
    EXPECT_TRUE(check->isAncestorOf(QApplication::focusWidget()));
}

// A five-figure odometer gets its thousands set apart when it is left, and is still what the person typed.
TEST_F(SheetKeys, TheOdometerOutFollowsTheOneThatWasTyped) {
    QLineEdit* in = field("odometerIn");
    ASSERT_NE(in, nullptr);
    in->setFocus();
    QTest::keyClicks(in, QStringLiteral("101500"));
    QTest::keyClick(in, Qt::Key_Tab);
    EXPECT_EQ(form_->card().job.odometerOut, core::Distance::from(101500, core::DistanceUnit::Miles));
}

TEST_F(SheetKeys, WhoeverHasTheKeyboardIsOnView) {
    auto* area = sheet_.findChild<QScrollArea*>();
    ASSERT_NE(area, nullptr);
    ASSERT_GT(area->verticalScrollBar()->maximum(), 0);
    area->verticalScrollBar()->setValue(area->verticalScrollBar()->maximum());
    QLineEdit* in = field("odometerIn");
    field("repairOrder")->setFocus();
    area->verticalScrollBar()->setValue(area->verticalScrollBar()->maximum());
    in->setFocus();
    const auto isOnView = [area](const QWidget* widget) {
        const QRect shown(area->viewport()->mapToGlobal(QPoint()), area->viewport()->size());
        return shown.contains(QRect(widget->mapToGlobal(QPoint()), widget->size()));
    };
    EXPECT_TRUE(QTest::qWaitFor([&] { return isOnView(in); }, 1000));
    area->verticalScrollBar()->setValue(area->verticalScrollBar()->maximum());
    sheet_.open(newRepair(context_), newRepair(context_), {}, {});
    EXPECT_EQ(area->verticalScrollBar()->value(), 0);
    QTest::qWait(50);
    EXPECT_EQ(area->verticalScrollBar()->value(), 0) << "nor does the keyboard's place pull it down later";
}

TEST_F(SheetKeys, AFieldIsOnViewWithItsLabelAndItsFinding) {
    auto* area = sheet_.findChild<QScrollArea*>();
    sheet_.resize(1180, 420);
    const auto isOnView = [area](const QWidget* widget) {
        const QRect shown(area->viewport()->mapToGlobal(QPoint()), area->viewport()->size());
        return shown.contains(QRect(widget->mapToGlobal(QPoint()), widget->size()));
    };
    QLineEdit* rattle = field("before.rattleTenths");
    const QLabel* label = nullptr;
    for (const QLabel* one : sheet_.findChildren<QLabel*>())
        if (one->buddy() == rattle)
            label = one;
    ASSERT_NE(label, nullptr);
    // From below, where the field alone would come to lie at the upper edge.
    field("labourPrice")->setFocus();
    QTest::qWait(50);
    area->verticalScrollBar()->setValue(area->verticalScrollBar()->maximum());
    ASSERT_FALSE(isOnView(rattle));
    rattle->setFocus();
    EXPECT_TRUE(QTest::qWaitFor([&] { return isOnView(rattle) && isOnView(label); }, 1000));

    QTest::keyClicks(rattle, QStringLiteral("loud"));
    form_->showAllFindings();
    const InlineFinding* finding = nullptr;
    for (const InlineFinding* one : sheet_.findChildren<InlineFinding*>())
        if (one->isVisible() && one->text() == rattle->accessibleDescription())
            finding = one;
    ASSERT_NE(finding, nullptr);
    // From above, where the finding under the field would stay below the lower edge.
    field("odometerIn")->setFocus();
    QTest::qWait(50);
    area->verticalScrollBar()->setValue(0);
    ASSERT_FALSE(isOnView(finding));
    rattle->setFocus();
    EXPECT_TRUE(QTest::qWaitFor([&] { return isOnView(label) && isOnView(finding); }, 1000));
}

TEST_F(SheetKeys, AJobThatWasStoredOpensAtItsTop) {
    JobCard card = newRepair(context_);
    card.job.revision = 3;
    card.job.odometerIn = core::Distance::miles(101'500);
    card.job.odometerOut = core::Distance::miles(101'500);
    auto* area = sheet_.findChild<QScrollArea*>();
    // Out of view, at another size, so that nothing is laid out yet when it opens.
    sheet_.askForVehicle(newRepair(context_));
    sheet_.resize(1180, 560);
    sheet_.open(card, card, tests::samplePast(), {});
    QTest::qWait(50);
    EXPECT_EQ(area->verticalScrollBar()->value(), 0);
    ASSERT_NE(QApplication::focusWidget(), nullptr);
    EXPECT_EQ(QApplication::focusWidget()->objectName(), QStringLiteral("odometerIn"));
}

TEST_F(SheetKeys, OneKeySaysThatItStartedQuiet) {
    QTest::keyClick(QApplication::focusWidget(), Qt::Key_Q, Qt::AltModifier);
    EXPECT_TRUE(
        QTest::qWaitFor([&] { return form_->card().job.deliveryCheck == core::DeliveryCheck::Quiet; }, 1000));
}

TEST_F(SheetKeys, F8DoesNotGoBackToWhatWasPutRight) {
    QTest::keyClick(QApplication::focusWidget(), Qt::Key_F8);
    const QWidget* first = QApplication::focusWidget();
    QTest::keyClick(QApplication::focusWidget(), Qt::Key_F8);
    EXPECT_NE(QApplication::focusWidget(), first);
    const auto before = form_->findings().size();
    QLineEdit* in = field("odometerIn");
    in->setFocus();
    QTest::keyClicks(in, QStringLiteral("101500"));
    QTest::keyClick(in, Qt::Key_Tab);
    ASSERT_LT(form_->findings().size(), before);
    for (std::size_t i = 0; i < before + 2; ++i) {
        QTest::keyClick(QApplication::focusWidget(), Qt::Key_F8);
        EXPECT_NE(QApplication::focusWidget(), in);
    }
}

TEST_F(SheetKeys, AYearThatAMistypedVinFilledInGoesWithIt) {
    form_->setVehicleShown(true);
    QLineEdit* vin = field("vehicle.vin");
    QLineEdit* year = field("vehicle.modelYear");
    year->clear();
    vin->setFocus();
    vin->selectAll();
    // 49 CFR 565.15: the tenth character is the model year, J is 2018 and K 2019 where the seventh is a
    // letter.
    QTest::keyClicks(vin, QStringLiteral("0TVH4PZ40JJ479087"));
    QTest::keyClick(vin, Qt::Key_Tab);
    EXPECT_EQ(year->text(), QStringLiteral("2018"));
    vin->setFocus();
    vin->selectAll();
    QTest::keyClicks(vin, QStringLiteral("0TVH4PZ40KJ479087"));
    QTest::keyClick(vin, Qt::Key_Tab);
    EXPECT_EQ(year->text(), QStringLiteral("2019"));
}

TEST(JobList, AnEmptyShopIsToldWhatAFirstJobStillWants) {
    JobList list;
    list.setJobs({});
    const auto* table = list.findChild<RecordTable*>();
    ASSERT_NE(table, nullptr);
    BayContext context = tests::sampleContext();
    list.setContext(context);
    EXPECT_TRUE(table->emptyText().contains(QStringLiteral("Press N")));
    context.staff.clear();
    list.setContext(context);
    EXPECT_TRUE(table->emptyText().contains(QStringLiteral("a technician")));
    EXPECT_FALSE(table->emptyText().contains(QStringLiteral("a repair path")));
    context.shelf = std::make_shared<const core::Shelf>();
    list.setContext(context);
    EXPECT_TRUE(table->emptyText().contains(QStringLiteral("an engine family, a repair path, a technician")))
        << table->emptyText().toStdString();
    EXPECT_TRUE(table->emptyText().contains(QStringLiteral("Alt+4")));
}

TEST(EnterPresses, ReturnPressesTheButtonThatHasTheKeyboard) {
    EnterPresses filter;
    qApp->installEventFilter(&filter);
    QWidget window;
    QPushButton button(QStringLiteral("Press"), &window);
    int pressed = 0;
    QObject::connect(&button, &QPushButton::clicked, [&] { ++pressed; });
    window.show();
    window.activateWindow();
    ASSERT_TRUE(QTest::qWaitForWindowActive(&window));
    button.setFocus();
    QTest::keyClick(&button, Qt::Key_Return);
    EXPECT_EQ(pressed, 1);
    button.setEnabled(false);
    QTest::keyClick(&button, Qt::Key_Return);
    EXPECT_EQ(pressed, 1);
}

} // namespace
} // namespace milehold::ui
