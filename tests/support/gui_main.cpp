// SPDX-License-Identifier: GPL-3.0-or-later
#include "ui/theme/theme.h"

#include <QApplication>
#include <QDir>
#include <QLocale>
#include <QStandardPaths>

#include <gtest/gtest.h>

/// Main program of every test that needs windows: no display, one locale, our own look.
int main(int argc, char** argv) {
    if (!qEnvironmentVariableIsSet("QT_QPA_PLATFORM"))
        qputenv("QT_QPA_PLATFORM", "offscreen");
    QStandardPaths::setTestModeEnabled(true);
    testing::InitGoogleTest(&argc, argv);
    QApplication app(argc, argv);
    QApplication::setApplicationName(QStringLiteral("milehold-tests"));
    QLocale::setDefault(QLocale(QLocale::English, QLocale::UnitedStates));
    milehold::ui::theme::apply(app, milehold::ui::Scheme::Light);
    return RUN_ALL_TESTS();
}
