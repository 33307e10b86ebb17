// SPDX-License-Identifier: GPL-3.0-or-later
// The Bay with a real shop in a temporary folder, driven by keys.
#pragma once

#include "app/desktop/bay_controller.h"
#include "app/desktop/save_history.h"
#include "app/desktop/session_loader.h"
#include "storage/shop.h"
#include "tests/support/bay_sample.h"
#include "ui/bay/bay_room.h"

#include <QApplication>
#include <QTemporaryDir>
#include <QTest>

#include <gtest/gtest.h>

#include <filesystem>
#include <memory>

namespace milehold::app {

/// A window's worth of Bay over one open shop.
class Bay {
public:
    explicit Bay(const std::filesystem::path& folder, bool fresh);
    ~Bay() { controller.reset(); }

    /// Until everything that was asked of the records has come back.
    void settle();
    static void keys(const QString& text) { QTest::keyClicks(QApplication::focusWidget(), text); }
    static void key(Qt::Key key, Qt::KeyboardModifiers modifiers = {}) {
        QTest::keyClick(QApplication::focusWidget(), key, modifiers);
    }
    static QString focusName() {
        const QWidget* widget = QApplication::focusWidget();
        return widget ? widget->objectName() : QString();
    }
    /// Tab until a field has the keyboard; false when it never does.
    bool tabTo(const QString& name);
    core::Result<storage::JobRow> onlyJob();
    std::size_t draftCount();

    ui::BayRoom room;
    Database database;
    Session session{[] { return tests::sampleContext().today; }};
    SessionLoader loader{database, session};
    SaveHistory history{database};
    std::unique_ptr<BayController> controller;
    QStringList said;
    QStringList problems;
};

class BayTest : public testing::Test {
protected:
    std::filesystem::path folder() const {
        return folder_.filePath("hollow-creek.milehold").toStdU16String();
    }
    QTemporaryDir folder_;

    /// From the list to a filled sheet, hands on the keyboard only.
    static void typeAFinishedJob(Bay& bay);
};

} // namespace milehold::app
