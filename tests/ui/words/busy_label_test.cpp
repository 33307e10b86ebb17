// SPDX-License-Identifier: GPL-3.0-or-later
#include "ui/words/busy_label.h"

#include <QTest>

#include <gtest/gtest.h>

namespace milehold::ui {
namespace {

TEST(BusyLabel, SpeaksOnlyOfWorkThatTakesItsTime) {
    QWidget window;
    BusyLabel label(&window);
    label.setBusy(true);
    EXPECT_TRUE(label.isHidden());
    label.setBusy(false);
    QTest::qWait(250);
    EXPECT_TRUE(label.isHidden()) << "done before there was anything to say";
    label.setBusy(true);
    EXPECT_TRUE(QTest::qWaitFor([&] { return !label.isHidden(); }, 5'000));
    label.setBusy(true);
    EXPECT_FALSE(label.isHidden());
    label.setBusy(false);
    EXPECT_TRUE(label.isHidden());
}

} // namespace
} // namespace milehold::ui
