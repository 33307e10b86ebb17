// SPDX-License-Identifier: GPL-3.0-or-later
#include "core/quote/quote.h"
#include "core/shop/labels.h"

#include <gtest/gtest.h>

#include <set>
#include <string>

namespace milehold::core {
namespace {

/// Every enum with the number of its values; a new value without a label fails here.
template <class E, int kCount> struct Enum {
    using Type = E;
    static constexpr int count = kCount;
};

template <class T> class Labels : public ::testing::Test {};

using AllEnums =
    ::testing::Types<Enum<DistanceUnit, 2>, Enum<Severity, 3>, Enum<CamRole, 3>, Enum<JobKind, 3>,
                     Enum<ConcernGroup, 6>, Enum<DeliveryCheck, 3>, Enum<OilLevel, 4>, Enum<OilCondition, 4>,
                     Enum<ComebackDecision, 7>, Enum<Payer, 6>, Enum<ClaimState, 6>, Enum<FollowUpOutcome, 8>,
                     Enum<Component, 9>, Enum<ShelfSubject, 4>, Enum<OdometerSource, 3>,
                     Enum<TroubleClass, 11>, Enum<LifeState, 5>, Enum<OtherEnd, 4>, Enum<LostReason, 4>,
                     Enum<YearlySource, 3>, Enum<Reading, 3>, Enum<RecordRef::Kind, 3>,
                     Enum<QuoteStrength, 4>>;
TYPED_TEST_SUITE(Labels, AllEnums);

TYPED_TEST(Labels, ReadBackEveryCode) {
    using E = typename TypeParam::Type;
    EXPECT_EQ(static_cast<int>(labelsOf<E>().size()), TypeParam::count);
    for (int i = 0; i < TypeParam::count; ++i) {
        const auto value = static_cast<E>(i);
        EXPECT_FALSE(toCode(value).empty());
        EXPECT_FALSE(labelOf(value).empty());
        EXPECT_EQ(fromCode<E>(toCode(value)), value);
    }
    EXPECT_FALSE(fromCode<E>("no such code"));
    EXPECT_FALSE(fromCode<E>(""));
}

TYPED_TEST(Labels, AreDistinctAndCodesKeepToSmallLettersAndHyphens) {
    using E = typename TypeParam::Type;
    std::set<std::string> codes;
    std::set<std::string> labels;
    for (const auto& label : labelsOf<E>()) {
        EXPECT_TRUE(codes.emplace(label.code).second) << label.code;
        EXPECT_TRUE(labels.emplace(label.label).second) << label.label;
        EXPECT_EQ(label.code.find_first_not_of("abcdefghijklmnopqrstuvwxyz-"), std::string_view::npos)
            << label.code;
    }
}

// What shop files hold must never change.
TEST(LabelCodes, OfStoredValuesStay) {
    EXPECT_EQ(toCode(ConcernGroup::StartupRattle), "startup-rattle");
    EXPECT_EQ(toCode(FollowUpOutcome::NoiseBack), "noise-back");
    EXPECT_EQ(toCode(ComebackDecision::NotReproduced), "not-reproduced");
    EXPECT_EQ(toCode(DeliveryCheck::NotDone), "not-done");
    EXPECT_EQ(toCode(Component::OilControlValve), "oil-control-valve");
    EXPECT_EQ(toCode(LifeState::CameBack), "came-back");
    EXPECT_EQ(shortName(DistanceUnit::Miles), "mi");
    EXPECT_EQ(shortName(DistanceUnit::Kilometres), "km");
}

} // namespace
} // namespace milehold::core
