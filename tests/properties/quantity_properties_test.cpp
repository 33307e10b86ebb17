// SPDX-License-Identifier: GPL-3.0-or-later
// What is typed comes back: distances, dates, moments, money, keys; and what a check digit can see.
#include "core/quantity/date.h"
#include "core/quantity/distance.h"
#include "core/quantity/money.h"
#include "core/shop/id.h"
#include "core/shop/vin.h"

#include <gtest/gtest.h>
#include <rapidcheck/gtest.h>

#include <string>

namespace milehold::core {
namespace {

RC_GTEST_PROP(DistanceProperties, WholeMilesAndKilometresComeBackExactly, ()) {
    const auto count = *rc::gen::inRange<std::int64_t>(-Distance::kMost, Distance::kMost + 1);
    RC_ASSERT(Distance::miles(count).whole(DistanceUnit::Miles) == count);
    RC_ASSERT(Distance::kilometres(count).whole(DistanceUnit::Kilometres) == count);
}

RC_GTEST_PROP(DistanceProperties, OrderIsKeptByEitherUnit, ()) {
    const auto a = *rc::gen::inRange<std::int64_t>(0, Distance::kMost);
    const auto b = *rc::gen::inRange<std::int64_t>(0, Distance::kMost);
    RC_ASSERT((Distance::miles(a) < Distance::miles(b)) == (a < b));
}

RC_GTEST_PROP(DateProperties, DatesAndMomentsComeBackExactly, ()) {
    const Date date = addDays(Date{std::chrono::year(1) / 1 / 1}, *rc::gen::inRange(0, 3'652'058));
    RC_ASSERT(dateFromIso(toIso(date)) == date);
    const Moment moment{
        std::chrono::milliseconds(*rc::gen::inRange<std::int64_t>(-60'000'000'000'000, 250'000'000'000'000))};
    RC_ASSERT(momentFromIso(toIso(moment)) == moment);
}

RC_GTEST_PROP(DateProperties, DaysAddAndSubtract, ()) {
    const Date date = addDays(Date{std::chrono::year(1990) / 1 / 1}, *rc::gen::inRange(0, 40'000));
    const auto days = *rc::gen::inRange<std::int64_t>(-20'000, 20'000);
    RC_ASSERT(daysBetween(date, addDays(date, days)) == days);
    const int months = *rc::gen::inRange(-300, 300);
    const Date moved = addMonths(date, months);
    RC_ASSERT(moved.ok() && moved.day() <= date.day());
    RC_ASSERT((static_cast<int>(moved.year()) - static_cast<int>(date.year())) * 12 +
                  static_cast<int>(static_cast<unsigned>(moved.month())) -
                  static_cast<int>(static_cast<unsigned>(date.month())) ==
              months);
}

RC_GTEST_PROP(MoneyProperties, AmountsComeBackExactly, ()) {
    const Money money{*rc::gen::arbitrary<std::int64_t>()};
    const int digits = *rc::gen::inRange(0, 4);
    RC_PRE(money.minor != std::numeric_limits<std::int64_t>::min());
    RC_ASSERT(moneyFromDecimal(toDecimal(money, digits), digits) == money);
}

RC_GTEST_PROP(UuidProperties, KeysComeBackExactly, ()) {
    Uuid uuid;
    for (auto& byte : uuid.bytes)
        byte = static_cast<std::uint8_t>(*rc::gen::inRange(0, 256));
    RC_ASSERT(uuidFromString(toString(uuid)) == uuid);
}

// A wrong character changes the sum by weight x difference of values, with weights 2 to 10: never a multiple
// of 11 unless the two characters have one value. Source: 49 CFR 565.15(c), and 11 is prime.
RC_GTEST_PROP(VinProperties, TheCheckDigitSeesEverySlipOfOneCharacterThatChangesItsValue, ()) {
    const std::string alphabet = "0123456789ABCDEFGHJKLMNPRSTUVWXYZ";
    const auto any = [&] { return alphabet[*rc::gen::inRange<std::size_t>(0, alphabet.size())]; };
    std::string vin;
    for (std::size_t i = 0; i < kVinLength; ++i)
        vin += any();
    vin[8] = vinCheckDigit(vin).value();
    RC_ASSERT(vinCheckDigit(vin) == vin[8]);
    std::string slipped = vin;
    const auto place = *rc::gen::inRange<std::size_t>(0, kVinLength);
    RC_PRE(place != 8);
    slipped[place] = any();
    const bool sameSum = vinWeightedSum(slipped) == vinWeightedSum(vin);
    RC_ASSERT((vinCheckDigit(slipped) == slipped[8]) == sameSum);
}

} // namespace
} // namespace milehold::core
