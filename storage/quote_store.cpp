// SPDX-License-Identifier: GPL-3.0-or-later
#include "storage/quote_store.h"

#include "storage/database/statement.h"
#include "storage/exchange/exchange_store.h"
#include "storage/records/repository.h"
#include "storage/shop.h"

namespace milehold::storage {

namespace {

/// The one repair of a vehicle that is in work; empty when there is none, or more than one.
core::Result<std::optional<core::JobId>> jobInWork(Session& session, core::VehicleId vehicle) {
    Statement select(
        session,
        "SELECT id FROM job WHERE vehicle_id = :vehicle AND kind = 'repair' AND delivered IS NULL "
        "AND void_reason = ''",
        "find the job in work");
    select.bindId(":vehicle", vehicle.uuid);
    if (auto ran = select.run(); !ran)
        return core::failureOf(ran);
    std::optional<core::JobId> job;
    while (true) {
        const auto more = select.next();
        if (!more)
            return core::failureOf(more);
        if (!*more)
            return job;
        if (job)
            return std::optional<core::JobId>();
        job = core::JobId{select.id(0)};
    }
}

} // namespace

QuoteStore::QuoteStore(Shop& shop) : session_(shop.exchange().session()) {}

core::Result<core::GivenQuote> QuoteStore::find(core::GivenQuoteId id) const {
    return findRecord<core::GivenQuote>(session_, id.uuid);
}

core::Result<std::vector<core::GivenQuote>> QuoteStore::all() const {
    return readAll<core::GivenQuote>(session_, "ORDER BY date, id");
}

core::Result<std::vector<core::GivenQuote>> QuoteStore::ofVehicle(core::VehicleId vehicle) const {
    return readWhere<core::GivenQuote>(session_, "WHERE vehicle_id = :vehicle ORDER BY date, id",
                                       [&](Statement& select) { select.bindId(":vehicle", vehicle.uuid); });
}

core::Result<core::GivenQuote> QuoteStore::save(core::GivenQuote quote) {
    if (auto allowed = refuseErrors("given_quote", core::validate(quote)); !allowed)
        return core::failureOf(allowed);
    return inOneUnit(session_, [&](UnitOfWork& unit) -> core::Result<core::GivenQuote> {
        if (quote.revision == 0) {
            const auto known = ofVehicle(quote.vehicle);
            if (!known)
                return core::failureOf(known);
            for (const core::GivenQuote& before : *known)
                if (before.path == quote.path && before.date == quote.date &&
                    before.horizon == quote.horizon && before.sentence == quote.sentence)
                    return before;
        }
        if (!quote.job && quote.revision == 0) {
            const auto job = jobInWork(session_, quote.vehicle);
            if (!job)
                return core::failureOf(job);
            quote.job = *job;
        }
        return saveRecord(unit, session_, std::move(quote));
    });
}

core::Result<void> QuoteStore::remove(core::GivenQuoteId id, std::int64_t revision) {
    return inOneUnit(session_, [&](UnitOfWork& unit) -> core::Result<void> {
        return removeRecord<core::GivenQuote>(unit, session_, id.uuid, revision);
    });
}

} // namespace milehold::storage
