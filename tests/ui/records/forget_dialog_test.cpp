// SPDX-License-Identifier: GPL-3.0-or-later
#include "tests/support/picture.h"
#include "ui/records/forget_dialog.h"

#include <QCheckBox>
#include <QLabel>
#include <QPushButton>
#include <QTest>

#include <gtest/gtest.h>

namespace milehold::ui {

namespace {

QLabel* label(const ForgetDialog& dialog, const char* name) {
    return dialog.findChild<QLabel*>(QString::fromLatin1(name));
}

} // namespace

TEST(ForgetDialog, WarnsOfAJobInWorkBeforeAnythingElse) {
    Forgetting scope{QStringLiteral("Ida Marsh"), 2, 5, 3, 1, 0, QStringLiteral("5/1/2033"), 2, false};
    const ForgetDialog dialog(scope);
    const auto* warning = label(dialog, "inWork");
    ASSERT_NE(warning, nullptr);
    EXPECT_TRUE(warning->text().contains(QStringLiteral("2 job")));
    EXPECT_TRUE(warning->text().contains(QStringLiteral("in work")));
    scope.jobsInWork = 0;
    EXPECT_EQ(label(ForgetDialog(scope), "inWork"), nullptr);
}

TEST(ForgetDialog, SaysWhatStaysForAWhileWhereTheShopLies) {
    Forgetting scope{QStringLiteral("Ida Marsh"), 1, 1, 0, 0, 0, QStringLiteral("5/1/2033"), 0, false};
    const ForgetDialog inFolder(scope);
    EXPECT_TRUE(label(inFolder, "backups")->text().contains(QStringLiteral("5/1/2033")));
    scope.onServer = true;
    const ForgetDialog onServer(scope);
    EXPECT_TRUE(label(onServer, "backups")->text().contains(QStringLiteral("write-ahead log")));
    EXPECT_FALSE(label(onServer, "backups")->text().contains(QStringLiteral("5/1/2033")))
        << "the program makes no backups of a server";
}

TEST(ForgetDialog, IsAcceptedOnlyOnceItWasSaidToBeMeant) {
    ForgetDialog dialog({QStringLiteral("Ida Marsh"), 1, 2, 0, 0, 0, QStringLiteral("5/1/2033"), 1, false});
    dialog.show();
    EXPECT_TRUE(tests::keepPictures(dialog, QStringLiteral("forget_in_work"), dialog.size()));
    auto* forget = dialog.findChild<QPushButton*>(QStringLiteral("forget"));
    QTest::mouseClick(forget, Qt::LeftButton);
    EXPECT_EQ(dialog.result(), QDialog::Rejected);
    EXPECT_TRUE(dialog.isVisible());
    dialog.findChild<QCheckBox*>(QStringLiteral("sure"))->setChecked(true);
    QTest::mouseClick(forget, Qt::LeftButton);
    EXPECT_EQ(dialog.result(), QDialog::Accepted);
}

} // namespace milehold::ui
