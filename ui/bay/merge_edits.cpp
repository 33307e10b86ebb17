// SPDX-License-Identifier: GPL-3.0-or-later
#include "ui/bay/merge_edits.h"

namespace milehold::ui {
namespace {

template <class T> void take(T& base, const T& shown, const T& now) {
    if (now != shown)
        base = now;
}

void take(core::ColdStart& base, const core::ColdStart& shown, const core::ColdStart& now) {
    take(base.soakHours, shown.soakHours, now.soakHours);
    take(base.rattleTenths, shown.rattleTenths, now.rattleTenths);
}
void take(core::ComebackCosts& base, const core::ComebackCosts& shown, const core::ComebackCosts& now) {
    using core::ComebackCosts;
    for (const auto kind : {&ComebackCosts::labour, &ComebackCosts::parts, &ComebackCosts::rental,
                            &ComebackCosts::towing, &ComebackCosts::goodwill, &ComebackCosts::credit})
        take(base.*kind, shown.*kind, now.*kind);
}

} // namespace

core::Job mergeEdits(core::Job base, const core::Job& shown, const core::Job& now) {
    const auto merge = [&](auto member) { take(base.*member, shown.*member, now.*member); };
    using core::Job;
    merge(&Job::id);
    merge(&Job::number);
    merge(&Job::repairOrder);
    merge(&Job::kind);
    merge(&Job::vehicle);
    merge(&Job::path);
    merge(&Job::writtenUp);
    merge(&Job::started);
    merge(&Job::delivered);
    merge(&Job::odometerIn);
    merge(&Job::odometerOut);
    merge(&Job::firstSeen);
    merge(&Job::technician);
    merge(&Job::advisor);
    merge(&Job::concernGroup);
    merge(&Job::concern);
    merge(&Job::cause);
    merge(&Job::correction);
    merge(&Job::before);
    merge(&Job::after);
    merge(&Job::deliveryCheck);
    merge(&Job::oilLevel);
    merge(&Job::oilCondition);
    merge(&Job::oilGrade);
    merge(&Job::oilPressureKpa);
    merge(&Job::calibrationBefore);
    merge(&Job::calibrationAfter);
    merge(&Job::lines);
    merge(&Job::parts);
    merge(&Job::codes);
    merge(&Job::hours);
    merge(&Job::partsPrice);
    merge(&Job::labourPrice);
    merge(&Job::sublet);
    merge(&Job::tax);
    merge(&Job::discount);
    merge(&Job::warrantyMonths);
    merge(&Job::warrantyDistance);
    merge(&Job::comebackOf);
    merge(&Job::comebackDecision);
    merge(&Job::decidedBy);
    merge(&Job::comebackCause);
    merge(&Job::payer);
    merge(&Job::comebackCost);
    merge(&Job::claimNumber);
    merge(&Job::claimDeadline);
    merge(&Job::comebackCosts);
    merge(&Job::claimState);
    merge(&Job::claimAmount);
    merge(&Job::voidReason);
    merge(&Job::revision);
    return base;
}

core::Vehicle mergeEdits(core::Vehicle base, const core::Vehicle& shown, const core::Vehicle& now) {
    const auto merge = [&](auto member) { take(base.*member, shown.*member, now.*member); };
    using core::Vehicle;
    merge(&Vehicle::id);
    merge(&Vehicle::vin);
    merge(&Vehicle::plate);
    merge(&Vehicle::maker);
    merge(&Vehicle::model);
    merge(&Vehicle::modelYear);
    merge(&Vehicle::family);
    merge(&Vehicle::customer);
    merge(&Vehicle::note);
    merge(&Vehicle::revision);
    return base;
}

core::Customer mergeEdits(core::Customer base, const core::Customer& shown, const core::Customer& now) {
    const auto merge = [&](auto member) { take(base.*member, shown.*member, now.*member); };
    using core::Customer;
    merge(&Customer::id);
    merge(&Customer::name);
    merge(&Customer::phones);
    merge(&Customer::emails);
    merge(&Customer::bestTime);
    merge(&Customer::doNotCall);
    merge(&Customer::note);
    merge(&Customer::revision);
    return base;
}

JobCard mergeEdits(JobCard base, const JobCard& shown, const JobCard& now) {
    base.job = mergeEdits(base.job, shown.job, now.job);
    base.vehicle = mergeEdits(base.vehicle, shown.vehicle, now.vehicle);
    if (now.customer != shown.customer)
        base.customer =
            mergeEdits(base.customer.value_or(core::Customer{}), shown.customer.value_or(core::Customer{}),
                       now.customer.value_or(core::Customer{}));
    return base;
}

} // namespace milehold::ui
