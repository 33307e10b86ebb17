// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include "core/life/history.h"
#include "core/result.h"
#include "core/shop/settings.h"
#include "core/shop/shelf.h"
#include "core/survival/lives.h"

#include <cstdint>
#include <optional>
#include <span>
#include <string>
#include <vector>

namespace milehold::core {

/// The five states of a life.
enum class LifeState : std::uint8_t { Holding, CameBack, NeverHeld, LostSight, EndedOtherwise };

enum class OtherEnd : std::uint8_t { None, Scrapped, RepairedElsewhere, Replaced };
enum class LostReason : std::uint8_t { None, Sold, DoNotCall, NoContact };
enum class YearlySource : std::uint8_t { Readings, ShopDefault, Told };

/// How far this vehicle is driven in a year.
struct YearlyDistance {
    Distance perYear;
    YearlySource source = YearlySource::ShopDefault;
    int readings = 0; ///< how many readings the slope rests on
    friend bool operator==(const YearlyDistance&, const YearlyDistance&) = default;
};

/// One record that a life was derived from.
struct RecordRef {
    enum class Kind : std::uint8_t { Job, FollowUp, Odometer } kind = Kind::Job;
    Uuid id;
    friend bool operator==(const RecordRef&, const RecordRef&) = default;
};

/// One repair under observation, from delivery at 0 until a comeback, the last known quiet odometer or
/// another end.
struct Life {
    JobId job;
    VehicleId vehicle;
    std::optional<RepairPathId> path;
    int ordinal = 1; ///< first, second ... repair of this vehicle
    LifeState state = LifeState::Holding;
    Distance entry;                ///< watched from here on; 0 unless first seen later
    Distance known;                ///< distance since the repair at the comeback, or when last known quiet
    std::optional<Distance> until; ///< the comeback lies in (known, until]; empty when exact or none
    OtherEnd otherEnd = OtherEnd::None;
    LostReason lostReason = LostReason::None;
    /// Past `known`, nobody has checked: estimated while the life is open; up to a repair elsewhere; 0 for
    /// other lives that ended.
    Distance unseen;
    YearlyDistance yearly;
    Date repairedOn;
    Date lastKnownOn;        ///< of the comeback, or of the last known quiet
    bool contributes = true; ///< false: it was never known quiet past entry, so it adds nothing to a curve
    std::vector<RecordRef> sources;
    friend bool operator==(const Life&, const Life&) = default;

    bool cameBack() const { return state == LifeState::CameBack || state == LifeState::NeverHeld; }
    /// It came back, or was quiet past where watching began: the n of every figure. A repair that was checked
    /// at delivery and never heard of again is a row of the curve, watched for no distance, but not followed.
    bool isFollowed() const { return contributes && (cameBack() || known > entry); }
    /// All distance past `known` that nobody has checked; that of a comeback reaches to where it was seen.
    Distance unchecked() const { return until ? unseen + (*until - known) : unseen; }
    /// Nobody knows whether the repair failed past `known`: it may have, though nothing says so. Why an owner
    /// had it repaired elsewhere is not recorded.
    bool mayHaveFailed() const {
        return !cameBack() && (unseen > Distance() || otherEnd == OtherEnd::RepairedElsewhere);
    }
};

/// Derives the lives of one vehicle by the rules of the records.
///
/// Input:  the vehicle's whole history in any order, the shop's rules, today's date. With the shelf, a later
/// job ends
///         a life when it fitted the same kind of timing component at the same position; without it, the same
///         part number there; in either case the same path where one of the two jobs lists no parts.
/// Output: one life per delivered, not void repair (here or elsewhere), in the order of the repairs.
/// Errors: InvalidInput when `today` is not a date or a delivered repair has no odometer.
/// A repair elsewhere ends a life, but is no sight of it quiet: it is known to its last quiet alone, and
///         the distance from there to that repair is unseen.
/// Source: the shop's own conventions; common practice, no published source.
Result<std::vector<Life>> deriveLives(const VehicleHistory& history, const ShopSettings& rules, Date today,
                                      const Shelf* shelf = nullptr);

/// Distance a year by the median of pairwise slopes over the last 36 months' readings when they span 60 days
/// or more, else the shop's default. Never negative. Source: Theil 1950; Sen 1968, JASA 63:1379.
YearlyDistance yearlyDistance(const VehicleHistory& history, const ShopSettings& rules, Date today);

/// Three readings of the distance nobody has checked: all quiet, not counted, all failed right away. They are
/// three assumptions, not limits: the last one in particular is no lower bound of the chance, as failing late
/// when fewer are watched, can lower a product limit further than failing right away.
enum class Reading : std::uint8_t { Best, Known, Worst };

/// What becomes of a comeback that is known only to lie in an interval.
enum class Intervals : std::uint8_t {
    AsRead, ///< where the shop saw it, at the end of its interval; in the worst reading right after its begin
    AtSeen, ///< where the shop saw it, in every reading
    Keep    ///< it stays an interval (column `until`): what interval estimators need; the worst as in AsRead
};

/// Lives as the columns that estimators read, in the shop's unit; row i of the result came from
/// `lives[rows[i]]`.
///
/// Known leaves out the lives that contribute nothing. Best ends an open life where its unseen distance ends;
/// worst makes a comeback of it one metre after it was last known quiet, and puts a comeback of an interval
/// one metre after the interval's begin. A life that ended by a repair elsewhere stands in known where it was
/// last known quiet, in best where that repair was done, and in worst it came back as an open one. Best and
/// worst also hold the lives of which nothing but unseen distance is known. Idea: Manski 1990, American
/// Economic Review 80:319, whose worst case bounds a proportion; a product limit it does not (see Reading).
struct LifeColumns {
    Lives lives;
    std::vector<std::size_t> rows;
};
LifeColumns toColumns(std::span<const Life> lives, DistanceUnit unit, Reading reading = Reading::Known,
                      Intervals intervals = Intervals::AsRead);

} // namespace milehold::core
