// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include "core/quantity/date.h"
#include "core/quantity/distance.h"
#include "core/quantity/money.h"
#include "core/shop/engine.h"
#include "core/shop/id.h"

#include <cstdint>
#include <optional>
#include <string>
#include <vector>

namespace milehold::core {

/// A repair of the timing system here, a visit for anything else, or such a repair that another shop did.
enum class JobKind : std::uint8_t { Repair, Visit, Elsewhere };

/// What the customer's concern is about. A comeback is the same group of concern after a repair.
enum class ConcernGroup : std::uint8_t { None, StartupRattle, TimingCode, ChainNoise, OilLeak, Other };

/// How the engine behaved at the cold start before delivery.
enum class DeliveryCheck : std::uint8_t { NotDone, Quiet, Noisy };

enum class OilLevel : std::uint8_t { NotChecked, Low, Good, High };
enum class OilCondition : std::uint8_t { NotChecked, Clean, Dark, Sludge };

/// What a person decided about a vehicle that came back.
enum class ComebackDecision : std::uint8_t {
    None,           ///< not decided yet; a job that is linked counts as a comeback until somebody decides
    SameConcern,    ///< the repair did not hold
    OtherPart,      ///< another part of the same system: the repair did not hold
    Workmanship,    ///< our work: the repair did not hold
    WrongDiagnosis, ///< the repair never addressed the fault: it did not hold
    NotReproduced,  ///< not heard yet: stays open, known quiet does not move
    Unrelated,      ///< not a comeback: known quiet moves forward
};

enum class Payer : std::uint8_t { Unknown, Customer, Shop, Supplier, Maker, Shared };

/// Where a claim to the supplier of a part stands.
enum class ClaimState : std::uint8_t {
    None,     ///< nothing to claim
    ToFile,   ///< to be filed by its deadline
    Filed,    ///< with the supplier, who has not decided
    Credited, ///< paid or credited, whole or in part
    Denied,
    Lapsed ///< the deadline went by, or the shop chose not to file
};

/// What a comeback cost the shop by kind, each >= 0; what a supplier or maker gave back lessens it.
struct ComebackCosts {
    Money labour; ///< at cost
    Money parts;
    Money rental;
    Money towing;
    Money goodwill;
    Money credit;
    Money total() const { return labour + parts + rental + towing + goodwill - credit; }
    friend bool operator==(const ComebackCosts&, const ComebackCosts&) = default;
};

/// A part that was fitted.
struct JobPart {
    PartNumberId part;
    std::optional<Position> position;
    std::string lot;
    int quantity = 1; ///< >= 1
    Money cost;
    friend bool operator==(const JobPart&, const JobPart&) = default;
};

/// A trouble code read before or after the work.
struct JobCode {
    std::string code; ///< as in SAE J2012, e.g. `P0011`
    bool after = false;
    friend bool operator==(const JobCode&, const JobCode&) = default;
};

/// One start after a cold soak.
struct ColdStart {
    std::optional<int> soakHours;
    std::optional<int> rattleTenths; ///< tenths of a second of rattle; 0 is quiet
    friend bool operator==(const ColdStart&, const ColdStart&) = default;
};

/// One repair order line of the shop's book: a repair, from the write-up to what became of it.
struct Job {
    JobId id;
    std::int64_t number = 0; ///< given by the shop's counter at the first save; 0 until then
    std::string repairOrder; ///< the shop's own number as written, may be blank
    JobKind kind = JobKind::Repair;
    VehicleId vehicle;
    std::optional<RepairPathId> path;
    Date writtenUp;
    std::optional<Date> started;
    std::optional<Date> delivered; ///< empty: still in work
    std::optional<Distance> odometerIn;
    std::optional<Distance> odometerOut; ///< as the instrument shows it
    /// Elsewhere only: the odometer at which this shop first saw the vehicle after that repair.
    std::optional<Distance> firstSeen;
    std::optional<StaffId> technician;
    std::optional<StaffId> advisor;

    ConcernGroup concernGroup = ConcernGroup::StartupRattle;
    std::string concern;
    std::string cause;
    std::string correction;
    ColdStart before;
    ColdStart after;
    DeliveryCheck deliveryCheck = DeliveryCheck::NotDone;
    OilLevel oilLevel = OilLevel::NotChecked;
    OilCondition oilCondition = OilCondition::NotChecked;
    std::string oilGrade;
    std::optional<int> oilPressureKpa; ///< hot, at idle
    std::string calibrationBefore;     ///< as read from the engine computer
    std::string calibrationAfter;

    std::vector<std::string> lines;
    std::vector<JobPart> parts;
    std::vector<JobCode> codes;

    Hours hours;
    Money partsPrice;
    Money labourPrice;
    Money sublet;
    Money tax;
    Money discount;
    std::optional<int> warrantyMonths;
    std::optional<Distance> warrantyDistance;

    std::optional<JobId> comebackOf; ///< the earlier job on this vehicle that did not hold
    ComebackDecision comebackDecision = ComebackDecision::None;
    std::optional<StaffId> decidedBy;
    std::string comebackCause;
    Payer payer = Payer::Unknown;
    ComebackCosts comebackCosts;
    Money comebackCost; ///< any other cost, or the whole of one that nobody broke down by kind
    ClaimState claimState = ClaimState::None;
    std::string claimNumber;
    std::optional<Date> claimDeadline;
    std::optional<Money> claimAmount; ///< as claimed; what came of it is `comebackCosts.credit`

    std::string voidReason; ///< not blank: voided, and out of every figure
    std::int64_t revision = 0;

    bool isDelivered() const { return delivered.has_value(); }
    bool isVoid() const { return !voidReason.empty(); }
    Money total() const { return partsPrice + labourPrice + sublet + tax - discount; }
    /// What this comeback cost the shop in all, credits taken off.
    Money comebackTotal() const { return comebackCost + comebackCosts.total(); }
    /// Whether anybody wrote down what it cost, be the sum 0.
    bool hasComebackCost() const { return comebackCost != Money{} || comebackCosts != ComebackCosts{}; }
    friend bool operator==(const Job&, const Job&) = default;
};

enum class FollowUpOutcome : std::uint8_t {
    Quiet,
    NoiseBack,
    Sold,
    Scrapped,
    RepairedElsewhere,
    NoAnswer,
    CallLater,
    DoNotCall
};

/// What a call, or a word at the counter, told about a finished job.
struct FollowUp {
    FollowUpId id;
    JobId job;
    Date date;
    FollowUpOutcome outcome = FollowUpOutcome::NoAnswer;
    std::optional<Distance> odometer;   ///< as told or read; empty when nobody knew
    bool odometerEstimated = false;     ///< an estimate never makes an event
    std::optional<Distance> noiseSince; ///< NoiseBack only: odometer at which it was noticed, when known
    std::optional<StaffId> by;
    std::string note;
    std::optional<Date> callOn; ///< CallLater only: the day that was promised; empty: a week later
    std::string voidReason;     ///< not blank: logged by mistake, kept, and out of every figure
    std::int64_t revision = 0;
    bool isVoid() const { return !voidReason.empty(); }
    friend bool operator==(const FollowUp&, const FollowUp&) = default;
};

/// A file kept with a job, stored under its hash.
struct Attachment {
    AttachmentId id;
    JobId job;
    std::string kind;
    std::string name;   ///< as it was called; data, never a path
    std::string sha256; ///< 64 lower-case hexadecimal digits
    std::int64_t size = 0;
    friend bool operator==(const Attachment&, const Attachment&) = default;
};

} // namespace milehold::core
