// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include "app/desktop/database.h"
#include "app/desktop/session.h"
#include "app/desktop/shelf_controller.h"
#include "app/desktop/shelf_saves.h"
#include "ui/shelf/detail_pane.h"
#include "ui/shelf/record_form.h"
#include "ui/shelf/shelf_room.h"

#include <QLineEdit>
#include <QTest>

#include <gtest/gtest.h>

#include <memory>
#include <optional>
#include <string>

namespace milehold::tests {

inline constexpr core::Date kShelfToday{std::chrono::year{2031}, std::chrono::May, std::chrono::day{16}};

/// Makes a small sample shop at a folder that is free, or in an empty database on a server.
core::Result<std::unique_ptr<storage::Shop>> makeShelfShop(const std::string& where);

/// A Shelf over a shop as a window has it, and what it says.
class OpenShelf {
public:
    /// `where`: a shop's folder or address.
    explicit OpenShelf(const std::string& where);

    /// Reads the shop into the session, as happens when a change of another station is heard.
    void refresh();
    /// Asks the records and waits for the answer.
    template <class Work> auto ask(Work work) {
        using Answer = std::invoke_result_t<Work, storage::Shop&>;
        std::optional<Answer> answer;
        database.ask(&database, std::move(work), [&](Answer given) { answer = std::move(given); });
        EXPECT_TRUE(QTest::qWaitFor([&] { return answer.has_value(); }, 20'000));
        return std::move(*answer);
    }
    ui::DetailPane* detail() { return room.findChild<ui::DetailPane*>(); }
    template <class Field = QLineEdit> Field* field(const char* name) {
        return detail()->form()->findChild<Field*>(QString::fromLatin1(name));
    }
    /// What is kept of the Shelf's drafts now.
    std::size_t kept();

    app::Session session{[] { return kShelfToday; }};
    app::Database database;
    ui::ShelfRoom room;
    std::unique_ptr<app::ShelfController> controller;
    QString said;
    std::optional<QStringList> found; ///< records that something was typed over before

private:
    bool open_ = false;
};

} // namespace milehold::tests
