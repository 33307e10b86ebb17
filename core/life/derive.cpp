// SPDX-License-Identifier: GPL-3.0-or-later
#include "core/life/life.h"
#include "core/life/signs.h"

#include <algorithm>
#include <cmath>

namespace milehold::core {

namespace {

constexpr double kDaysAYear = 365.25;

using Kind = Sign::Kind;

/// Sorts the signs of one repair into a life.
class LifeReader {
public:
    LifeReader(const VehicleRecord& record, const VehicleHistory& history, const ShopSettings& rules,
               Date today, const Job& repair)
        : record_(record), history_(history), rules_(rules), today_(today), repair_(repair),
          signs_(record.signsOf(repair)) {}

    Life read() {
        life_.job = repair_.id;
        life_.vehicle = repair_.vehicle;
        life_.path = repair_.path;
        life_.yearly = record_.yearly();
        life_.repairedOn = *repair_.delivered;
        life_.lastKnownOn = *repair_.delivered;
        addSource({RecordRef::Kind::Job, repair_.id.uuid});
        if (repair_.kind == JobKind::Elsewhere)
            readEntry();
        if (repair_.deliveryCheck == DeliveryCheck::Noisy)
            life_.state = LifeState::NeverHeld;
        else if (!readComeback() && !readOtherEnd())
            readOpen();
        life_.contributes = contributes();
        addReplacements();
        return std::move(life_);
    }

private:
    void addSource(const RecordRef& source) {
        if (std::find(life_.sources.begin(), life_.sources.end(), source) == life_.sources.end())
            life_.sources.push_back(source);
    }

    void readEntry() {
        const auto seen = record_.runFirstSeen(repair_);
        seen_ = seen.has_value();
        if (seen)
            life_.entry = std::max(*seen - record_.runAtDelivery(repair_), Distance());
    }

    const Sign* first(Kind kind) const {
        const auto found =
            std::find_if(signs_.begin(), signs_.end(), [&](const Sign& sign) { return sign.kind == kind; });
        return found == signs_.end() ? nullptr : &*found;
    }

    /// After this day nothing speaks of this repair any more.
    bool isWithin(const Sign& sign) const {
        const Sign* covered = first(Kind::Covered);
        return covered == nullptr || sign.date <= covered->date;
    }

    /// Moves known quiet forward with all that was quiet up to `last`, no further than `limit`.
    void followQuiet(Date last, std::optional<Distance> limit) {
        for (const auto& sign : signs_) {
            if (sign.kind != Kind::Quiet || sign.date > last || !isWithin(sign) ||
                (limit && sign.at > *limit))
                continue;
            // Quiet up to the last odometer that was read by then: what was run since stays unseen.
            life_.known = std::max(life_.known, sign.at);
            life_.lastKnownOn = std::max(life_.lastKnownOn, sign.readOn);
            addSource(sign.source);
        }
    }

    bool readComeback() {
        const Sign* noise = nullptr; // the first to be heard
        std::optional<Distance> exact;
        Distance seen;
        for (const auto& sign : signs_) {
            if (sign.kind != Kind::Noise || !isWithin(sign))
                continue;
            if (noise == nullptr) {
                noise = &sign;
                seen = sign.at;
            } else if (!sign.guessed) {
                seen = std::min(seen, sign.at);
            }
            if (sign.exact && (!exact || *sign.exact < *exact))
                exact = sign.exact;
        }
        if (noise == nullptr)
            return false;
        if (exact && *exact <= seen)
            seen = *exact;
        if (const Sign* end = first(Kind::End); end != nullptr && end->date < noise->date) {
            // Heard of only after the end; before it in the vehicle's life all the same when it was noticed
            // earlier.
            if (!exact || *exact > seen || *exact > std::max(end->at, quietBy(end->date)))
                return false;
        }
        if (noise->guessed) {
            const Distance quiet = quietBy(noise->date);
            seen = std::max(seen, quiet + Distance::fromMetres(1));
        }
        // What else was done on the day of the noise says nothing of the noise.
        followQuiet(addDays(noise->date, -1), seen);
        life_.state = LifeState::CameBack;
        if (exact && *exact <= seen)
            life_.known = *exact;
        else if (seen > life_.known)
            life_.until = seen;
        if (life_.known == Distance() && !life_.until)
            life_.state = LifeState::NeverHeld;
        life_.lastKnownOn = noise->date;
        for (const auto& sign : signs_)
            if (sign.kind == Kind::Noise && isWithin(sign))
                addSource(sign.source);
        return true;
    }

    Distance quietBy(Date last) const {
        Distance quiet;
        for (const auto& sign : signs_)
            if (sign.kind == Kind::Quiet && sign.date <= last && isWithin(sign))
                quiet = std::max(quiet, sign.at);
        return quiet;
    }

    bool readOtherEnd() {
        const Sign* end = first(Kind::End);
        if (end == nullptr || !isWithin(*end))
            return false;
        followQuiet(end->date, std::nullopt);
        life_.state = LifeState::EndedOtherwise;
        life_.otherEnd = end->end;
        addSource(end->source);
        if (end->end == OtherEnd::RepairedElsewhere) {
            // Nobody looked on the way there, and the noise may have been why.
            life_.unseen = std::max(end->at - life_.known, Distance());
            return true;
        }
        life_.known = std::max(life_.known, end->at);
        life_.lastKnownOn = end->date;
        return true;
    }

    void readOpen() {
        followQuiet(Date{std::chrono::year::max() / 12 / 31}, std::nullopt);
        if (const Sign* covered = first(Kind::Covered)) {
            // Quiet up to there or not: nobody has decided, and nothing later will tell.
            life_.unseen = std::max(covered->at - life_.known, Distance());
            addSource(covered->source);
            return;
        }
        const double days = static_cast<double>(daysBetween(life_.lastKnownOn, today_));
        const double metres = static_cast<double>(life_.yearly.perYear.metres()) * days / kDaysAYear;
        life_.unseen = Distance::fromMetres(std::max<std::int64_t>(std::llround(metres), 0));
        readLost();
    }

    void readLost() {
        const Sign* sold = nullptr;
        const Sign* doNotCall = nullptr;
        Date lastContact = *repair_.delivered;
        for (const auto& sign : signs_) { // by date
            if (sign.kind == Kind::Sold)
                sold = &sign;
            else if (sign.date > (sold == nullptr ? Date{} : sold->date))
                sold = nullptr;
            if (sign.kind == Kind::DoNotCall)
                doNotCall = &sign;
            lastContact = std::max(lastContact, sign.date);
        }
        if (sold != nullptr)
            lose(LostReason::Sold, sold);
        else if (doNotCall != nullptr || history_.doNotCall)
            lose(LostReason::DoNotCall, doNotCall);
        else if (addMonths(lastContact, rules_.lostAfterMonths) < today_)
            lose(LostReason::NoContact, nullptr);
    }

    void lose(LostReason reason, const Sign* sign) {
        life_.state = LifeState::LostSight;
        life_.lostReason = reason;
        if (sign != nullptr)
            addSource(sign->source);
    }

    bool contributes() const {
        if (repair_.kind == JobKind::Elsewhere && !seen_)
            return false;
        if (life_.entry == Distance() && repair_.deliveryCheck != DeliveryCheck::NotDone)
            return true;
        if (life_.cameBack())
            return life_.until ? life_.known >= life_.entry
                               : life_.known > life_.entry || life_.entry == Distance();
        return life_.known > life_.entry;
    }

    /// Instrument replacements within the life, as its distances rest on them.
    void addReplacements() {
        for (const auto& replacement : record_.instruments().replacements())
            if (replacement.date >= life_.repairedOn && replacement.date <= life_.lastKnownOn)
                addSource({RecordRef::Kind::Odometer, replacement.id.uuid});
    }

    const VehicleRecord& record_;
    const VehicleHistory& history_;
    const ShopSettings& rules_;
    Date today_;
    const Job& repair_;
    std::vector<Sign> signs_;
    Life life_;
    bool seen_ = true; ///< false: a repair elsewhere on a vehicle that this shop has not seen since
};

} // namespace

Result<std::vector<Life>> deriveLives(const VehicleHistory& history, const ShopSettings& rules, Date today,
                                      const Shelf* shelf) {
    if (!today.ok())
        return fail(ErrorCode::InvalidInput, "today is not a date");
    const VehicleRecord record(history, rules, today, shelf);
    std::vector<Life> lives;
    lives.reserve(record.repairs().size());
    for (const Job* repair : record.repairs()) {
        if (!repair->delivered->ok())
            return fail(ErrorCode::InvalidInput, "a delivered repair has no date");
        if (!repair->odometerOut && !repair->odometerIn)
            return fail(ErrorCode::InvalidInput, "a delivered repair has no odometer");
        lives.push_back(LifeReader(record, history, rules, today, *repair).read());
        lives.back().ordinal = static_cast<int>(lives.size());
    }
    return lives;
}

} // namespace milehold::core
