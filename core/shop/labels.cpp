// SPDX-License-Identifier: GPL-3.0-or-later
#include "core/shop/labels.h"

#include "core/quote/quote.h"

namespace milehold::core {

template <> std::span<const Label<DistanceUnit>> labelsOf() {
    static constexpr Label<DistanceUnit> kLabels[] = {
        {DistanceUnit::Miles, "miles", "Miles"},
        {DistanceUnit::Kilometres, "kilometres", "Kilometres"},
    };
    return kLabels;
}

template <> std::span<const Label<Severity>> labelsOf() {
    static constexpr Label<Severity> kLabels[] = {
        {Severity::Hint, "hint", "Hint"},
        {Severity::Warning, "warning", "Please check"},
        {Severity::Error, "error", "Needs correcting"},
    };
    return kLabels;
}

template <> std::span<const Label<CamRole>> labelsOf() {
    static constexpr Label<CamRole> kLabels[] = {
        {CamRole::Intake, "intake", "Intake"},
        {CamRole::Exhaust, "exhaust", "Exhaust"},
        {CamRole::Single, "single", "Single cam"},
    };
    return kLabels;
}

template <> std::span<const Label<JobKind>> labelsOf() {
    static constexpr Label<JobKind> kLabels[] = {
        {JobKind::Repair, "repair", "Timing repair"},
        {JobKind::Visit, "visit", "Visit for something else"},
        {JobKind::Elsewhere, "elsewhere", "Timing repair elsewhere"},
    };
    return kLabels;
}

template <> std::span<const Label<ConcernGroup>> labelsOf() {
    static constexpr Label<ConcernGroup> kLabels[] = {
        {ConcernGroup::None, "none", "None"},
        {ConcernGroup::StartupRattle, "startup-rattle", "Start-up rattle"},
        {ConcernGroup::TimingCode, "timing-code", "Cam timing code"},
        {ConcernGroup::ChainNoise, "chain-noise", "Chain noise"},
        {ConcernGroup::OilLeak, "oil-leak", "Oil leak"},
        {ConcernGroup::Other, "other", "Something else"},
    };
    return kLabels;
}

template <> std::span<const Label<DeliveryCheck>> labelsOf() {
    static constexpr Label<DeliveryCheck> kLabels[] = {
        {DeliveryCheck::NotDone, "not-done", "Not done"},
        {DeliveryCheck::Quiet, "quiet", "Quiet"},
        {DeliveryCheck::Noisy, "noisy", "Still noisy"},
    };
    return kLabels;
}

template <> std::span<const Label<OilLevel>> labelsOf() {
    static constexpr Label<OilLevel> kLabels[] = {
        {OilLevel::NotChecked, "not-checked", "Not checked"},
        {OilLevel::Low, "low", "Low"},
        {OilLevel::Good, "good", "Good"},
        {OilLevel::High, "high", "Too high"},
    };
    return kLabels;
}

template <> std::span<const Label<OilCondition>> labelsOf() {
    static constexpr Label<OilCondition> kLabels[] = {
        {OilCondition::NotChecked, "not-checked", "Not checked"},
        {OilCondition::Clean, "clean", "Clean"},
        {OilCondition::Dark, "dark", "Dark"},
        {OilCondition::Sludge, "sludge", "Sludge"},
    };
    return kLabels;
}

template <> std::span<const Label<ComebackDecision>> labelsOf() {
    static constexpr Label<ComebackDecision> kLabels[] = {
        {ComebackDecision::None, "none", "Not decided yet"},
        {ComebackDecision::SameConcern, "same-concern", "Same concern: it did not hold"},
        {ComebackDecision::OtherPart, "other-part", "Another part of the same system"},
        {ComebackDecision::Workmanship, "workmanship", "Our workmanship"},
        {ComebackDecision::WrongDiagnosis, "wrong-diagnosis", "The diagnosis was wrong"},
        {ComebackDecision::NotReproduced, "not-reproduced", "Not reproduced: stays open"},
        {ComebackDecision::Unrelated, "unrelated", "Not a comeback: unrelated"},
    };
    return kLabels;
}

template <> std::span<const Label<Payer>> labelsOf() {
    static constexpr Label<Payer> kLabels[] = {
        {Payer::Unknown, "unknown", "Not known yet"},
        {Payer::Customer, "customer", "Customer"},
        {Payer::Shop, "shop", "The shop"},
        {Payer::Supplier, "supplier", "Part supplier"},
        {Payer::Maker, "maker", "Vehicle maker"},
        {Payer::Shared, "shared", "Shared"},
    };
    return kLabels;
}

template <> std::span<const Label<ClaimState>> labelsOf() {
    static constexpr Label<ClaimState> kLabels[] = {
        {ClaimState::None, "none", "No claim"},   {ClaimState::ToFile, "to-file", "To be filed"},
        {ClaimState::Filed, "filed", "Filed"},    {ClaimState::Credited, "credited", "Credited"},
        {ClaimState::Denied, "denied", "Denied"}, {ClaimState::Lapsed, "lapsed", "Let lapse"},
    };
    return kLabels;
}

template <> std::span<const Label<FollowUpOutcome>> labelsOf() {
    static constexpr Label<FollowUpOutcome> kLabels[] = {
        {FollowUpOutcome::Quiet, "quiet", "Still quiet"},
        {FollowUpOutcome::NoiseBack, "noise-back", "Noise is back"},
        {FollowUpOutcome::Sold, "sold", "Sold"},
        {FollowUpOutcome::Scrapped, "scrapped", "Scrapped"},
        {FollowUpOutcome::RepairedElsewhere, "repaired-elsewhere", "Repaired elsewhere"},
        {FollowUpOutcome::NoAnswer, "no-answer", "No answer"},
        {FollowUpOutcome::CallLater, "call-later", "Call again later"},
        {FollowUpOutcome::DoNotCall, "do-not-call", "Do not call"},
    };
    return kLabels;
}

template <> std::span<const Label<Component>> labelsOf() {
    static constexpr Label<Component> kLabels[] = {
        {Component::Phaser, "phaser", "Phaser"},
        {Component::OilControlValve, "oil-control-valve", "Oil control valve"},
        {Component::ChainSet, "chain-set", "Chain set"},
        {Component::Tensioner, "tensioner", "Tensioner"},
        {Component::Guide, "guide", "Guide"},
        {Component::Seal, "seal", "Seal or gasket"},
        {Component::Fastener, "fastener", "Fastener"},
        {Component::Oil, "oil", "Oil or filter"},
        {Component::Other, "other", "Other"},
    };
    return kLabels;
}

template <> std::span<const Label<ShelfSubject>> labelsOf() {
    static constexpr Label<ShelfSubject> kLabels[] = {
        {ShelfSubject::EngineFamily, "engine-family", "Engine family"},
        {ShelfSubject::RepairPath, "repair-path", "Repair path"},
        {ShelfSubject::PartNumber, "part-number", "Part number"},
        {ShelfSubject::Calibration, "calibration", "Calibration"},
    };
    return kLabels;
}

template <> std::span<const Label<OdometerSource>> labelsOf() {
    static constexpr Label<OdometerSource> kLabels[] = {
        {OdometerSource::Job, "job", "From a job"},
        {OdometerSource::Call, "call", "From a call"},
        {OdometerSource::Typed, "typed", "Typed in"},
    };
    return kLabels;
}

template <> std::span<const Label<TroubleClass>> labelsOf() {
    static constexpr Label<TroubleClass> kLabels[] = {
        {TroubleClass::EnginePosition, "engine-position", "Engine position"},
        {TroubleClass::SlowResponse, "slow-response", "Slow to follow"},
        {TroubleClass::ActuatorCircuit, "actuator-circuit", "Valve circuit"},
        {TroubleClass::OverAdvanced, "over-advanced", "Too far advanced"},
        {TroubleClass::OverRetarded, "over-retarded", "Too far retarded"},
        {TroubleClass::Correlation, "correlation", "Cam and crank disagree"},
        {TroubleClass::CamSensor, "cam-sensor", "Cam sensor"},
        {TroubleClass::CrankSensor, "crank-sensor", "Crank sensor"},
        {TroubleClass::OilPressure, "oil-pressure", "Oil pressure"},
        {TroubleClass::Misfire, "misfire", "Misfire"},
        {TroubleClass::Other, "other", "Other"},
    };
    return kLabels;
}

template <> std::span<const Label<LifeState>> labelsOf() {
    static constexpr Label<LifeState> kLabels[] = {
        {LifeState::Holding, "holding", "Holding"},
        {LifeState::CameBack, "came-back", "Came back"},
        {LifeState::NeverHeld, "never-held", "Never held"},
        {LifeState::LostSight, "lost-sight", "Lost sight"},
        {LifeState::EndedOtherwise, "ended-otherwise", "Ended otherwise"},
    };
    return kLabels;
}

template <> std::span<const Label<OtherEnd>> labelsOf() {
    static constexpr Label<OtherEnd> kLabels[] = {
        {OtherEnd::None, "none", "None"},
        {OtherEnd::Scrapped, "scrapped", "Scrapped"},
        {OtherEnd::RepairedElsewhere, "repaired-elsewhere", "Repaired elsewhere"},
        {OtherEnd::Replaced, "replaced", "Parts replaced again"},
    };
    return kLabels;
}

template <> std::span<const Label<LostReason>> labelsOf() {
    static constexpr Label<LostReason> kLabels[] = {
        {LostReason::None, "none", "None"},
        {LostReason::Sold, "sold", "Sold, no contact since"},
        {LostReason::DoNotCall, "do-not-call", "Do not call"},
        {LostReason::NoContact, "no-contact", "No contact"},
    };
    return kLabels;
}

template <> std::span<const Label<YearlySource>> labelsOf() {
    static constexpr Label<YearlySource> kLabels[] = {
        {YearlySource::Readings, "readings", "From its odometer readings"},
        {YearlySource::ShopDefault, "shop-default", "The shop's default"},
        {YearlySource::Told, "told", "As told"},
    };
    return kLabels;
}

template <> std::span<const Label<Reading>> labelsOf() {
    static constexpr Label<Reading> kLabels[] = {
        {Reading::Best, "best", "Best: all quiet"},
        {Reading::Known, "known", "Known: not counted"},
        {Reading::Worst, "worst", "Worst: all failed right away"},
    };
    return kLabels;
}

template <> std::span<const Label<RecordRef::Kind>> labelsOf() {
    static constexpr Label<RecordRef::Kind> kLabels[] = {
        {RecordRef::Kind::Job, "job", "Job"},
        {RecordRef::Kind::FollowUp, "follow-up", "Follow-up"},
        {RecordRef::Kind::Odometer, "odometer", "Odometer reading"},
    };
    return kLabels;
}

template <> std::span<const Label<QuoteStrength>> labelsOf() {
    static constexpr Label<QuoteStrength> kLabels[] = {
        {QuoteStrength::NoJobs, "no-jobs", "Nothing recorded yet"},
        {QuoteStrength::TooFew, "too-few", "Too few to say"},
        {QuoteStrength::LimitsOnly, "limits-only", "Limits only"},
        {QuoteStrength::Full, "full", "Estimate with limits"},
    };
    return kLabels;
}

std::string_view shortName(DistanceUnit unit) {
    return unit == DistanceUnit::Kilometres ? "km" : "mi";
}

} // namespace milehold::core
