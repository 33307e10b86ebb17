// SPDX-License-Identifier: GPL-3.0-or-later
#include "storage/undo_store.h"

#include "storage/database/change_row.h"
#include "storage/database/statement.h"
#include "storage/database/unit_of_work.h"
#include "storage/exchange/exchange_store.h"
#include "storage/records/reverse_change.h"
#include "storage/shop.h"

#include <algorithm>

namespace milehold::storage {

using core::ErrorCode;

namespace {

constexpr std::int64_t kMostRows = 800;   // of the log, looked back
constexpr std::size_t kMostChanges = 200; // of one save; an import is not taken back by a key

/// A run of rows of the log that one commit wrote.
struct Group {
    std::int64_t first = 0;
    std::int64_t last = 0;
    std::string at;
    std::optional<std::int64_t> reverses;
    bool undoable = true;
    bool forgets = false;
};

/// The number behind a mark that a unit of work put beside the fields of its rows.
std::optional<std::int64_t> markIn(const std::string& fields, std::string_view name) {
    const std::string begin = "\"f\":\"" + std::string(name) + "\"";
    if (fields.find(begin) == std::string::npos)
        return std::nullopt;
    const auto object = fields.rfind('{', fields.find(begin));
    const auto value = fields.find("\"a\":", object);
    if (value == std::string::npos)
        return std::nullopt;
    return std::stoll(fields.substr(value + 4));
}

core::Result<std::vector<Group>> groupsOf(Session& session) {
    Statement select(session,
                     "SELECT seq, at, action, table_name, fields FROM change_log WHERE station = :station "
                     "ORDER BY seq DESC LIMIT :most",
                     "read the newest saves");
    select.bindText(":station", session.who().station).bindInt(":most", kMostRows);
    if (auto ran = select.run(); !ran)
        return core::failureOf(ran);
    std::vector<Group> groups; // newest first
    std::int64_t rows = 0;
    while (true) {
        const auto more = select.next();
        if (!more)
            return core::failureOf(more);
        if (!*more)
            break;
        ++rows;
        const std::int64_t seq = select.integer(0);
        const std::string at = select.text(1);
        if (groups.empty() || groups.back().at != at || groups.back().first != seq + 1)
            groups.push_back({seq, seq, at, {}, true, false});
        Group& group = groups.back();
        group.first = seq;
        const std::string fields = select.text(4);
        if (const auto mark = markIn(fields, kReversesMark))
            group.reverses = mark;
        group.forgets |= markIn(fields, kForgottenMark).has_value();
        const bool startsTheShop = select.text(3) == "shop" && select.text(2) == codeOf(ChangeAction::Insert);
        group.undoable &=
            canReverse(select.text(3)) && select.text(2) != codeOf(ChangeAction::Export) && !startsTheShop;
    }
    if (rows == kMostRows && !groups.empty())
        groups.pop_back(); // its beginning may lie further back
    for (Group& group : groups)
        group.undoable &= static_cast<std::size_t>(group.last - group.first) < kMostChanges;
    std::ranges::reverse(groups);
    return groups;
}

struct Stacks {
    std::vector<Group> undo;
    std::vector<Group> redo;
};

/// What the saves, one after the other, have left to take back and to do again.
Stacks stacksOf(const std::vector<Group>& groups) {
    Stacks stacks;
    const auto isTop = [](const std::vector<Group>& stack, std::int64_t first) {
        return !stack.empty() && stack.back().first == first;
    };
    for (const Group& group : groups) {
        if (group.forgets) {
            stacks = {}; // what went before may hold what was forgotten
        } else if (group.reverses && isTop(stacks.undo, *group.reverses)) {
            stacks.undo.pop_back();
            stacks.redo.push_back(group);
        } else if (group.reverses && isTop(stacks.redo, *group.reverses)) {
            stacks.redo.pop_back();
            stacks.undo.push_back(group);
        } else if (group.undoable) {
            stacks.redo.clear();
            stacks.undo.push_back(group);
        }
    }
    return stacks;
}

/// What a save was about: the job before all else, then a call; readings only where there is nothing else.
const Change& mainOf(const std::vector<Change>& changes) {
    for (const auto* table : {"job", "follow_up"}) {
        const auto found = std::ranges::find(changes, table, &Change::table);
        if (found != changes.end())
            return *found;
    }
    const auto found =
        std::ranges::find_if(changes, [](const Change& one) { return one.table != "odometer"; });
    return found == changes.end() ? changes.front() : *found;
}

core::Result<std::optional<SaveStep>> stepOf(Session& session, const std::vector<Group>& stack) {
    if (stack.empty())
        return std::optional<SaveStep>();
    const Group& group = stack.back();
    const auto changes = changesBetween(session, group.first, group.last);
    if (!changes)
        return core::failureOf(changes);
    if (changes->empty())
        return std::optional<SaveStep>();
    const Change& main = mainOf(*changes);
    auto label = labelOfRecord(session, main.table, main.row);
    if (!label)
        return core::failureOf(label);
    return std::optional(
        SaveStep{group.first, group.last, main.at, main.table, main.row, main.action, std::move(*label)});
}

} // namespace

core::Result<UndoState> UndoStore::state() const {
    const auto groups = groupsOf(session_);
    if (!groups)
        return core::failureOf(groups);
    const Stacks stacks = stacksOf(*groups);
    auto undo = stepOf(session_, stacks.undo);
    if (!undo)
        return core::failureOf(undo);
    auto redo = stepOf(session_, stacks.redo);
    if (!redo)
        return core::failureOf(redo);
    return UndoState{std::move(*undo), std::move(*redo)};
}

core::Result<UndoOutcome> UndoStore::undo(const std::string& voidReason) {
    auto now = state();
    if (!now)
        return core::failureOf(now);
    if (!now->undo)
        return core::fail(ErrorCode::NotFound, "there is no save to take back");
    return reverse(*now->undo, voidReason);
}

core::Result<UndoOutcome> UndoStore::redo(const std::string& voidReason) {
    auto now = state();
    if (!now)
        return core::failureOf(now);
    if (!now->redo)
        return core::fail(ErrorCode::NotFound, "there is nothing to do again");
    return reverse(*now->redo, voidReason);
}

core::Result<UndoOutcome> UndoStore::reverse(const SaveStep& step, const std::string& voidReason) {
    const auto changes = changesBetween(session_, step.first, step.last);
    if (!changes)
        return core::failureOf(changes);
    UndoOutcome outcome{step, false, {}, false};
    const bool isNewJob = std::ranges::any_of(
        *changes, [](const Change& one) { return one.table == "job" && one.action == ChangeAction::Insert; });
    std::optional<core::Uuid> blocked;
    const auto done = inOneUnit(session_, [&](UnitOfWork& unit) -> core::Result<void> {
        unit.mark(kReversesMark, step.first);
        for (const Change& change : *changes) { // newest first
            // What came with a new job stays for it; a job or a call takes its readings along by itself.
            if (isNewJob && change.table != "job")
                continue;
            const auto fate = reverseChange(session_, change, voidReason);
            if (!fate)
                return core::failureOf(fate);
            if (*fate == Reversal::Done)
                continue;
            outcome.forgotten = *fate == Reversal::Forgotten;
            blocked = change.row;
            return core::fail(ErrorCode::Conflict, "the record was changed since");
        }
        return {};
    });
    if (done) {
        outcome.done = true;
        return outcome;
    }
    if (!blocked)
        return core::failureOf(done);
    for (const Change& change : *changes) {
        if (change.row != *blocked)
            continue;
        const auto later = ChangeLog(session_).of(change.table, change.row);
        if (later && !later->empty() && later->front().sequence > step.last)
            outcome.since = later->front();
    }
    return outcome;
}

UndoStore undoOf(Shop& shop) {
    return UndoStore(shop.exchange().session());
}

core::Result<std::string> labelOf(Shop& shop, std::string_view table, const core::Uuid& row) {
    return labelOfRecord(shop.exchange().session(), table, row);
}

} // namespace milehold::storage
