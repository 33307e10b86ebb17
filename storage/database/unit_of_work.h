// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include "core/result.h"
#include "storage/change_log.h"
#include "storage/database/session.h"

#include <memory>
#include <string>
#include <string_view>
#include <type_traits>
#include <vector>

namespace milehold::core {
struct Shelf;
}

namespace milehold::storage {

/// A field of a changed record on its way into the change log.
struct LoggedField {
    std::string name;
    Value before;
    Value after;
    bool personal = false; ///< kept apart, so that it can be forgotten while the chain still fits
};

/// One transaction on the shop's records: whole, or not at all.
///
/// Rolls back unless commit() was called, whatever the way out. After the first failure nothing runs in it
/// any more. A unit that begins inside another joins it, and only the outer one commits.
class UnitOfWork {
public:
    explicit UnitOfWork(Session& session) : session_(session) {}
    ~UnitOfWork();
    UnitOfWork(const UnitOfWork&) = delete;
    UnitOfWork& operator=(const UnitOfWork&) = delete;

    core::Result<void> begin();
    /// When the commit itself is cut off the connection is made anew and the change log is asked whether it
    /// happened. Errors: DiskProblem and others when it did not, OutcomeUnknown when nobody can tell.
    core::Result<void> commit();

    /// The shelf as this unit has read it, until it logs a change of a shelf's table: a transaction sees no
    /// changes but its own. Null: not read yet.
    const std::shared_ptr<const core::Shelf>& keptShelf() const { return shelf_; }
    void keepShelf(std::shared_ptr<const core::Shelf> shelf) { shelf_ = std::move(shelf); }

    void fail() { failed_ = true; }
    bool hasFailed() const { return failed_; }

    /// Writes one row of the change log and remembers the notice. Nothing is written when no field is given.
    core::Result<void> log(ChangeAction action, std::string_view table, const core::Uuid& row,
                           const std::vector<LoggedField>& fields);

private:
    core::Result<void> readHead();
    core::Result<void> settle(const core::Error& why);
    void rollBack();

    Session& session_;
    UnitOfWork* outer_ = nullptr;
    bool open_ = false;
    bool failed_ = false;
    bool headKnown_ = false;
    ChainHead head_;
    bool logged_ = false;
    std::vector<ChangeNotice> notices_;
    std::shared_ptr<const core::Shelf> shelf_;
};

/// Runs `work` in one unit of work: commits when it succeeds, rolls back when it fails.
template <class Work>
auto inOneUnit(Session& session, Work&& work) -> std::invoke_result_t<Work, UnitOfWork&> {
    UnitOfWork unit(session);
    if (auto begun = unit.begin(); !begun)
        return core::failureOf(begun);
    auto result = work(unit);
    if (!result) {
        unit.fail();
        return result;
    }
    if (auto committed = unit.commit(); !committed)
        return core::failureOf(committed);
    return result;
}

} // namespace milehold::storage
