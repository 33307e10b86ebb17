// SPDX-License-Identifier: GPL-3.0-or-later
#include "core/shop/vin.h"
#include "sample-shop/story.h"

#include <cstdio>
#include <string>

namespace milehold::sample {
namespace {

constexpr std::string_view kVinLetters = "ABCDEFGHJKLMNPRSTUVWXYZ";
constexpr std::string_view kVinYears = "ABCDEFGHJKLMNPRSTVWXY123456789"; // 1980 and 2010 are A

char anyOf(std::string_view letters, Random& random) {
    return letters[random.below(letters.size())];
}

std::string makeVin(std::string_view wmi, int modelYear, Random& random) {
    std::string vin(wmi);
    vin += anyOf(kVinLetters, random);
    vin += anyOf("123456789", random);
    vin += anyOf(kVinLetters, random);
    // 49 CFR 565.15: a letter in position 7 for model years from 2010 on, a digit before.
    vin += modelYear >= 2010 ? anyOf(kVinLetters, random) : anyOf("123456789", random);
    vin += anyOf("0123456789", random);
    vin += '0'; // the check digit, set below
    vin += kVinYears[static_cast<std::size_t>(modelYear - 1980) % kVinYears.size()];
    vin += anyOf(kVinLetters, random);
    for (int i = 0; i < 6; ++i)
        vin += anyOf("0123456789", random);
    if (const auto check = core::vinCheckDigit(vin))
        vin[8] = *check;
    return vin;
}

std::string makePhone(Random& random) {
    char text[40];
    // 555-0100 to 555-0199 are kept free for invented people in the North American numbering plan.
    std::snprintf(text, sizeof text, "(%d) 555-01%02d", static_cast<int>(random.between(201, 989)),
                  static_cast<int>(random.between(0, 99)));
    return text;
}

std::string lowered(std::string_view text) {
    std::string result;
    for (const char c : text)
        result += c >= 'A' && c <= 'Z' ? static_cast<char>(c - 'A' + 'a') : c;
    return result;
}

} // namespace

core::Customer makeCustomer(Random& random) {
    core::Customer customer;
    customer.id = random.id<core::CustomerId>();
    const Text given = random.pick(kGivenNames);
    const Text family = random.pick(kFamilyNames);
    if (random.chance(0.03))
        customer.name = std::string(random.pick(kFleets));
    else
        customer.name = std::string(given) + " " + std::string(family);
    customer.phones.push_back(makePhone(random));
    if (random.chance(0.2))
        customer.phones.push_back(makePhone(random));
    if (random.chance(0.6))
        customer.emails.push_back(lowered(given) + "." + lowered(family) + "@example.com");
    if (random.chance(0.5))
        customer.bestTime = std::string(random.pick(kBestTimes));
    if (random.chance(0.12))
        customer.note = std::string(random.pick(kCustomerNotes));
    return customer;
}

core::Vehicle makeVehicle(const FamilyKit& family, int modelYear, core::CustomerId customer, Random& random) {
    core::Vehicle vehicle;
    vehicle.id = random.id<core::VehicleId>();
    vehicle.vin = makeVin(family.wmi, modelYear, random);
    char plate[16];
    std::snprintf(plate, sizeof plate, "%c%c%c %04d", anyOf(kVinLetters, random), anyOf(kVinLetters, random),
                  anyOf(kVinLetters, random), static_cast<int>(random.between(100, 9899)));
    vehicle.plate = plate;
    vehicle.maker = std::string(family.maker);
    vehicle.model = std::string(random.pick(family.models));
    vehicle.modelYear = modelYear;
    vehicle.family = family.id;
    vehicle.customer = customer;
    return vehicle;
}

} // namespace milehold::sample
