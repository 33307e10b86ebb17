// SPDX-License-Identifier: GPL-3.0-or-later
#include "storage/erasure.h"

#include "storage/attachment_store.h"
#include "storage/database/statement.h"
#include "storage/exchange/exchange_store.h"
#include "storage/files/backup_writer.h"
#include "storage/records/repository.h"
#include "storage/records/reverse_change.h"
#include "storage/server/write_anew.h"
#include "storage/shop.h"

#include <algorithm>

namespace milehold::storage {

using core::ErrorCode;

namespace {

constexpr auto kForgotten = "Forgotten on request";

/// All records that can tell something about one person.
struct Reach {
    core::Customer customer;
    std::vector<core::Vehicle> vehicles;
    std::vector<core::Job> jobs;
    std::vector<core::FollowUp> followUps;
    std::vector<core::Attachment> attachments;
    std::vector<std::string> drafts; ///< names of forms

    std::vector<core::Uuid> rows() const {
        std::vector<core::Uuid> ids = {customer.id.uuid};
        for (const auto& one : vehicles)
            ids.push_back(one.id.uuid);
        for (const auto& one : jobs)
            ids.push_back(one.id.uuid);
        for (const auto& one : followUps)
            ids.push_back(one.id.uuid);
        for (const auto& one : attachments)
            ids.push_back(one.id.uuid);
        return ids;
    }
};

template <class T, class More>
core::Result<void> append(std::vector<T>& all, const core::Result<std::vector<More>>& more) {
    if (!more)
        return core::failureOf(more);
    all.insert(all.end(), more->begin(), more->end());
    return {};
}

core::Result<void> addDrafts(Shop& shop, Reach& reach) {
    const auto drafts = shop.drafts().list();
    if (!drafts)
        return core::failureOf(drafts);
    for (const auto& draft : *drafts) {
        // A draft names the records that it changes by their keys.
        const bool names = std::ranges::any_of(reach.rows(), [&](const core::Uuid& id) {
            const std::string key = core::toString(id);
            return draft.text.find(key) != std::string::npos || draft.form.find(key) != std::string::npos;
        });
        if (names)
            reach.drafts.push_back(draft.form);
    }
    return {};
}

core::Result<Reach> reachOf(Shop& shop, core::CustomerId id) {
    Session& session = shop.exchange().session();
    auto customer = findRecord<core::Customer>(session, id.uuid);
    if (!customer)
        return core::failureOf(customer);
    Reach reach;
    reach.customer = std::move(*customer);
    const auto bind = [](const core::Uuid& owner) {
        return [owner](Statement& select) { select.bindId(":owner", owner); };
    };
    if (auto read =
            append(reach.vehicles, readWhere<core::Vehicle>(session, "WHERE customer_id = :owner ORDER BY id",
                                                            bind(id.uuid)));
        !read)
        return core::failureOf(read);
    for (const auto& vehicle : reach.vehicles) {
        if (auto read =
                append(reach.jobs, readWhere<core::Job>(session, "WHERE vehicle_id = :owner ORDER BY number",
                                                        bind(vehicle.id.uuid)));
            !read)
            return core::failureOf(read);
    }
    for (const auto& job : reach.jobs) {
        if (auto read = append(reach.followUps, shop.followUps().ofJob(job.id)); !read)
            return core::failureOf(read);
        if (auto read = append(reach.attachments, attachmentsOf(shop).ofJob(job.id)); !read)
            return core::failureOf(read);
    }
    if (auto added = addDrafts(shop, reach); !added)
        return core::failureOf(added);
    return reach;
}

ErasureScope scopeOf(Shop& shop, const Reach& reach) {
    ErasureScope scope{reach.vehicles.size(),    reach.jobs.size(),   reach.followUps.size(),
                       reach.attachments.size(), reach.drafts.size(), {}};
    const auto now = shop.exchange().session().now();
    const std::chrono::year_month_day today(std::chrono::floor<std::chrono::days>(now));
    auto last = today + std::chrono::months(kMonthsKept);
    if (!last.ok())
        last = last.year() / last.month() / std::chrono::last;
    scope.backupsUntil = std::chrono::sys_days(last);
    scope.jobsInWork = static_cast<std::size_t>(std::ranges::count_if(
        reach.jobs, [](const core::Job& job) { return !job.delivered && !job.isVoid(); }));
    scope.onServer = shop.exchange().session().server().has_value();
    return scope;
}

template <class T> core::Result<void> put(UnitOfWork& unit, Session& session, T record) {
    auto saved = saveRecord(unit, session, std::move(record));
    if (!saved)
        return core::failureOf(saved);
    return {};
}

core::Result<void> overwrite(UnitOfWork& unit, Session& session, const Reach& reach) {
    core::Customer nobody;
    nobody.id = reach.customer.id;
    nobody.revision = reach.customer.revision;
    nobody.name = kForgotten;
    nobody.doNotCall = true;
    if (auto done = put(unit, session, nobody); !done)
        return done;
    for (auto vehicle : reach.vehicles) {
        vehicle.vin.clear();
        vehicle.plate.clear();
        vehicle.note.clear();
        if (auto done = put(unit, session, std::move(vehicle)); !done)
            return done;
    }
    for (auto job : reach.jobs) {
        for (auto* words : {&job.concern, &job.cause, &job.correction, &job.comebackCause})
            words->clear();
        if (job.isVoid())
            job.voidReason = kForgotten;
        if (auto done = put(unit, session, std::move(job)); !done)
            return done;
    }
    for (auto call : reach.followUps) {
        call.note.clear();
        if (call.isVoid())
            call.voidReason = kForgotten;
        if (auto done = put(unit, session, std::move(call)); !done)
            return done;
    }
    return {};
}

/// The values that the log keeps outside its chain, and the keys under which they entered it.
core::Result<void> dropLogged(Session& session, const core::Uuid& row) {
    Statement values(session,
                     "DELETE FROM change_value WHERE seq IN (SELECT seq FROM change_log WHERE row_id = :row)",
                     "forget logged values");
    values.bindId(":row", row);
    if (auto ran = values.run(); !ran)
        return ran;
    Statement keys(session, "DELETE FROM private_salt WHERE row_id = :row", "forget a log key");
    keys.bindId(":row", row);
    return keys.run();
}

core::Result<void> eraseRecords(Shop& shop, const Reach& reach) {
    Session& session = shop.exchange().session();
    return inOneUnit(session, [&](UnitOfWork& unit) -> core::Result<void> {
        if (auto done = overwrite(unit, session, reach); !done)
            return done;
        for (const auto& attachment : reach.attachments) {
            if (auto done = attachmentsOf(shop).remove(attachment.id); !done)
                return done;
        }
        if (auto done = unit.log(ChangeAction::Update, "customer", reach.customer.id.uuid,
                                 {{std::string(kForgottenMark), {}, intValue(1), false}});
            !done)
            return done;
        for (const auto& row : reach.rows()) {
            if (auto done = dropLogged(session, row); !done)
                return done;
        }
        return {};
    });
}

} // namespace

core::Result<ErasureScope> whatForgettingTakes(Shop& shop, core::CustomerId customer) {
    const auto reach = reachOf(shop, customer);
    if (!reach)
        return core::failureOf(reach);
    return scopeOf(shop, *reach);
}

core::Result<ErasureScope> forgetCustomer(Shop& shop, core::CustomerId customer) {
    if (shop.readOnly())
        return core::fail(ErrorCode::ReadOnly, "the shop is open for reading only");
    const auto reach = reachOf(shop, customer);
    if (!reach)
        return core::failureOf(reach);
    // A shop on a server is backed up there.
    if (auto kept = shop.backUp(BackupReason::BeforeErasure);
        !kept && kept.error().code != ErrorCode::Unsupported)
        return core::failureOf(kept);
    if (auto erased = eraseRecords(shop, *reach); !erased)
        return core::failureOf(erased);
    for (const auto& form : reach->drafts) {
        if (auto dropped = shop.drafts().drop(form); !dropped)
            return core::failureOf(dropped);
    }
    if (auto removed = attachmentsOf(shop).removeUnnamed(reach->attachments); !removed)
        return core::failureOf(removed);
    auto scope = scopeOf(shop, *reach);
    Session& session = shop.exchange().session();
    if (scope.onServer) {
        scope.oldRowsLeft = !writePeopleAnew(session, !reach->attachments.empty());
        return scope;
    }
    if (auto written = runPlain(session.database(), "VACUUM", "write the shop anew"); !written)
        return core::failureOf(written);
    return scope;
}

} // namespace milehold::storage
