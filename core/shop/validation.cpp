// SPDX-License-Identifier: GPL-3.0-or-later
// The rules of people, vehicles, engine families and the shop's own settings.
#include "core/shop/validation.h"

#include "core/shop/finding_list.h"
#include "core/shop/vin.h"
#include "core/shop/warranty_words.h"

#include <algorithm>
#include <array>

namespace milehold::core {

namespace {

/// A vehicle that runs longer than this in a year runs day and night.
constexpr Distance kMostYearly = Distance::miles(250'000);
constexpr int kLongestLostLimit = 120;

bool hasDigit(const std::string& text) {
    return text.find_first_of("0123456789") != std::string::npos;
}

/// Only the form that a slip breaks: one @ with something on both sides and no white space.
bool looksLikeEmail(const std::string& text) {
    const auto at = text.find('@');
    return at != std::string::npos && at > 0 && at + 1 < text.size() &&
           text.find('@', at + 1) == std::string::npos && text.find_first_of(" \t\r\n") == std::string::npos;
}

} // namespace

Findings validate(const Staff& staff) {
    FindingList found;
    found.needText("name", staff.name, "Enter a name.");
    if (!staff.technician && !staff.advisor && !staff.owner)
        found.warning("technician", "Choose what this person does: technician, advisor or owner.");
    return found.take();
}

Findings validate(const Customer& customer) {
    FindingList found;
    found.needText("name", customer.name, "Enter a name.");
    for (std::size_t i = 0; i < customer.phones.size(); ++i)
        if (!hasDigit(customer.phones[i]))
            found.error(entryField("phones", i), "A phone number holds digits.");
    for (std::size_t i = 0; i < customer.emails.size(); ++i)
        if (!looksLikeEmail(customer.emails[i]))
            found.error(entryField("emails", i), "An e-mail address has one @ with text on both sides.");
    return found.take();
}

Findings validate(const Vehicle& vehicle) {
    FindingList found;
    found.add(checkVin(vehicle.vin, vehicle.modelYear));
    found.checkYears("modelYear", vehicle.modelYear, std::nullopt);
    if (vehicle.vin.empty() && isBlank(vehicle.plate))
        found.warning("vin", "Without a VIN or a plate this vehicle is hard to find again.");
    if (!vehicle.family)
        found.warning("family",
                      "Without its engine family this vehicle's repairs are left out of every curve.");
    return found.take();
}

Findings validate(const EngineFamily& family) {
    FindingList found;
    found.needText("name", family.name, "Enter a name.");
    if (family.banks < 1 || family.banks > 2)
        found.error("banks", "An engine has one bank or two.");
    for (std::size_t i = 0; i < family.positions.size(); ++i) {
        const Position position = family.positions[i];
        const std::string field = entryField("positions", i);
        if (position.bank < 1 || position.bank > family.banks)
            found.error(field,
                        "Position " + toCode(position) + " is on a bank that this engine does not have.");
        const auto before = family.positions.begin();
        const auto here = before + static_cast<std::ptrdiff_t>(i);
        if (std::find(before, here, position) != here)
            found.error(field, "Position " + toCode(position) + " is listed twice.");
        const bool mixed = std::any_of(before, family.positions.end(), [&](Position other) {
            return other.bank == position.bank &&
                   (other.cam == CamRole::Single) != (position.cam == CamRole::Single);
        });
        if (mixed && position.cam == CamRole::Single)
            found.warning(field, "A bank has either a single cam or an intake and an exhaust cam.");
    }
    return found.take();
}

Findings validate(const ShopSettings& settings) {
    FindingList found;
    found.needText("name", settings.name, "Enter the shop's name.");
    const auto isCapital = [](char c) { return c >= 'A' && c <= 'Z'; };
    if (settings.currency.size() != 3 ||
        !std::all_of(settings.currency.begin(), settings.currency.end(), isCapital))
        found.error("currency", "A currency is three capital letters as in ISO 4217.");
    if (settings.warrantyMonths && *settings.warrantyMonths < 0)
        found.error("warrantyMonths", "The months of warranty cannot be negative.");
    if (settings.warrantyDistance && *settings.warrantyDistance < Distance())
        found.error("warrantyDistance", "The distance of warranty cannot be negative.");
    for (const auto& contradicted : {monthsContradicted(settings), distanceContradicted(settings)})
        if (!contradicted.empty())
            found.warning("warrantyTerms", contradicted);
    if (settings.defaultYearly <= Distance() || settings.defaultYearly > kMostYearly)
        found.error("defaultYearly",
                    "The distance driven in a year lies between 1 and 250,000 miles (402,336 km).");
    if (settings.lostAfterMonths < 1 || settings.lostAfterMonths > kLongestLostLimit)
        found.error("lostAfterMonths", "The months without contact lie between 1 and 120.");
    return found.take();
}

} // namespace milehold::core
