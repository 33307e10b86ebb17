// SPDX-License-Identifier: GPL-3.0-or-later
#include "ui/shell/alt_types_nothing.h"

#include <QApplication>
#include <QLineEdit>
#include <QPlainTextEdit>
#include <QPushButton>
#include <QTest>
#include <QVBoxLayout>

#include <gtest/gtest.h>

namespace milehold::ui {
namespace {

/// A field above a button that Alt+S presses.
struct Bench {
    QWidget window;
    QLineEdit field{&window};
    QPlainTextEdit lines{&window};
    QPushButton save{QStringLiteral("&Save"), &window};
    AltTypesNothing filter;
    int saved = 0;

    Bench() {
        auto* column = new QVBoxLayout(&window);
        for (QWidget* widget :
             {static_cast<QWidget*>(&field), static_cast<QWidget*>(&lines), static_cast<QWidget*>(&save)})
            column->addWidget(widget);
        QObject::connect(&save, &QPushButton::clicked, &window, [this] { ++saved; });
        qApp->installEventFilter(&filter);
        window.show();
        window.activateWindow();
        EXPECT_TRUE(QTest::qWaitForWindowActive(&window));
    }
};

TEST(AltTypesNothing, TheLetterOfAGreyedOutButtonStaysOutOfTheFields) {
    Bench bench;
    bench.save.setEnabled(false);
    bench.field.setFocus();
    QTest::keyClick(&bench.field, 's', Qt::AltModifier);
    QTest::keyClick(&bench.field, 'S', Qt::AltModifier | Qt::ShiftModifier);
    EXPECT_EQ(bench.field.text(), QString());
    bench.lines.setFocus();
    QTest::keyClick(&bench.lines, 's', Qt::AltModifier);
    EXPECT_EQ(bench.lines.toPlainText(), QString());
    EXPECT_EQ(bench.saved, 0);
}

TEST(AltTypesNothing, LettersTypeAndAltPressesWhatIsThere) {
    Bench bench;
    bench.field.setFocus();
    QTest::keyClicks(&bench.field, QStringLiteral("sS1"));
    // The third sign of a key comes as Ctrl+Alt where there is no key of its own for it.
    QTest::keyClick(&bench.field, '@', Qt::AltModifier | Qt::ControlModifier);
    EXPECT_EQ(bench.field.text(), QStringLiteral("sS1@"));
    QTest::keyClick(&bench.field, 's', Qt::AltModifier);
    EXPECT_TRUE(QTest::qWaitFor([&] { return bench.saved == 1; }, 1000));
    EXPECT_EQ(bench.field.text(), QStringLiteral("sS1@"));
}

} // namespace
} // namespace milehold::ui
