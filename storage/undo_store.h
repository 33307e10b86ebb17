// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include "core/result.h"
#include "storage/change_log.h"

#include <cstdint>
#include <optional>
#include <string>
#include <string_view>
#include <vector>

namespace milehold::storage {

class Session;
class Shop;

/// One save as the change log tells it: the record that it was about, by table and key.
struct SaveStep {
    std::int64_t first = 0; ///< its first row of the log
    std::int64_t last = 0;
    core::Moment at;
    std::string table;
    core::Uuid row;
    ChangeAction action = ChangeAction::Update;
    std::string label; ///< what a person calls the record: `41`, `LP-4410`, a path's name; may be blank
    friend bool operator==(const SaveStep&, const SaveStep&) = default;
};

/// What this station can take back next, and do again next.
struct UndoState {
    std::optional<SaveStep> undo;
    std::optional<SaveStep> redo;
    friend bool operator==(const UndoState&, const UndoState&) = default;
};

/// What became of an undo or a redo.
struct UndoOutcome {
    SaveStep step;
    bool done = false;
    /// Not done: the change that somebody made to the record since, where the log still has it.
    std::optional<Change> since;
    bool forgotten = false; ///< not done: the values were forgotten on a customer's request
};

/// Takes saves back and does them again, from the change log alone: so it works after the program was started
/// anew. Newest first, for the saves of one station; each step is itself a logged save, through the stores
/// and their rules. A new job is taken back by voiding it with a reason, everything else by its former
/// values. A customer's do-not-call mark stays when the call that set it is taken back.
class UndoStore {
public:
    explicit UndoStore(Session& session) : session_(session) {}

    core::Result<UndoState> state() const;
    /// Errors: NotFound when there is nothing; InvalidInput when a rule of the records forbids it (the detail
    /// names the field); those of the stores.
    /// `voidReason`: why a new job is void, in the shop's language.
    core::Result<UndoOutcome> undo(const std::string& voidReason);
    core::Result<UndoOutcome> redo(const std::string& voidReason);

private:
    core::Result<UndoOutcome> reverse(const SaveStep& step, const std::string& voidReason);

    Session& session_;
};

UndoStore undoOf(Shop& shop);

/// What a person calls a record: a job's number, a part's; blank when it is gone or has no name.
core::Result<std::string> labelOf(Shop& shop, std::string_view table, const core::Uuid& row);

} // namespace milehold::storage
