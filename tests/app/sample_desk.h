// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include "app/desktop/database.h"
#include "app/desktop/save_history.h"
#include "app/desktop/session.h"
#include "app/desktop/session_loader.h"

#include <QTemporaryDir>

#include <gtest/gtest.h>

#include <functional>
#include <memory>

namespace milehold::tests {

/// The sample shop in a folder of its own, open, with its session loaded: what every room's controller starts
/// from.
class SampleDesk : public ::testing::Test {
protected:
    SampleDesk();

    void SetUp() override;

    app::Database& database() { return *database_; }
    app::Session& session() { return *session_; }
    app::SaveHistory& saves() { return *saves_; }
    /// Waits for the window's thread to see something come true.
    static bool waitFor(const std::function<bool()>& condition);
    /// Asks the records and waits for the answer.
    template <class Work> auto ask(Work work) {
        using Answer = std::invoke_result_t<Work, storage::Shop&>;
        std::optional<Answer> answer;
        database_->ask(database_.get(), std::move(work), [&](Answer given) { answer = std::move(given); });
        EXPECT_TRUE(waitFor([&] { return answer.has_value(); }));
        return std::move(*answer);
    }

private:
    QTemporaryDir folder_;
    std::unique_ptr<app::Database> database_;
    std::unique_ptr<app::Session> session_;
    std::unique_ptr<app::SaveHistory> saves_;
    std::unique_ptr<app::SessionLoader> loader_;
};

} // namespace milehold::tests
