// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include "core/life/history.h"
#include "core/life/life.h"
#include "core/life/odometer.h"
#include "core/shop/settings.h"
#include "core/shop/shelf.h"

#include <optional>
#include <vector>

namespace milehold::core {

/// One thing that a record says about a repair.
struct Sign {
    enum class Kind : std::uint8_t {
        Noise,   ///< the concern is back
        End,     ///< something else ended the life
        Quiet,   ///< the concern was not there
        Covered, ///< the same components were replaced with the concern present: nothing later speaks of this
                 ///< repair
        Contact, ///< somebody saw the vehicle or spoke of it, no more
        Sold,
        DoNotCall
    };
    Kind kind = Kind::Contact;
    Date date;
    Distance at;                   ///< distance since the repair, >= 0
    Date readOn{};                 ///< Quiet: the day on which `at` was read; not after `date`
    std::optional<Distance> exact; ///< Noise: noticed at this distance
    bool guessed = false;          ///< Noise: `at` rests on the yearly distance, as nobody knew the odometer
    OtherEnd end = OtherEnd::None;
    RecordRef source;
};

/// What all lives of a vehicle are read from, worked out once.
class VehicleRecord {
public:
    VehicleRecord(const VehicleHistory& history, const ShopSettings& rules, Date today, const Shelf* shelf);

    /// The delivered, not void repairs, here or elsewhere, in order.
    const std::vector<const Job*>& repairs() const { return repairs_; }
    const YearlyDistance& yearly() const { return yearly_; }
    const Instruments& instruments() const { return instruments_; }
    /// Distance really run when this repair was delivered. The repair has an odometer.
    Distance runAtDelivery(const Job& repair) const;
    /// Distance really run when this shop first saw the vehicle after a repair elsewhere.
    std::optional<Distance> runFirstSeen(const Job& repair) const;
    /// All that the records say about this repair after its delivery, by date.
    std::vector<Sign> signsOf(const Job& repair) const;

private:
    struct About;
    void addJob(const Job& job, const About& about, std::vector<Sign>& signs) const;
    void addCall(const FollowUp& call, const About& about, std::vector<Sign>& signs) const;
    bool isLater(const Job& job, const About& about) const;
    bool replacedSame(const Job& earlier, const Job& later) const;
    std::optional<Distance> runOf(const Job& job) const;
    struct Run {
        Distance distance;
        Date readOn{};
    };
    Run lastRunBy(Date date, const About& about) const;
    Distance runGuessed(Date date, Distance atLeast) const;

    const VehicleHistory& history_;
    const ShopSettings& rules_;
    const Shelf* shelf_;
    Instruments instruments_;
    std::vector<Sighting> sightings_;
    YearlyDistance yearly_;
    std::vector<const Job*> repairs_;
};

} // namespace milehold::core
