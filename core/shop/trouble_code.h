// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include <cstdint>
#include <optional>
#include <string>
#include <string_view>

namespace milehold::core {

/// What a trouble code is about, as far as engine timing goes.
enum class TroubleClass : std::uint8_t {
    EnginePosition,
    SlowResponse,
    ActuatorCircuit,
    OverAdvanced,
    OverRetarded,
    Correlation,
    CamSensor,
    CrankSensor,
    OilPressure,
    Misfire,
    Other
};

/// What is generic about a trouble code.
struct TroubleCode {
    std::string code; ///< upper case, e.g. `P0011`
    TroubleClass kind = TroubleClass::Other;
    std::optional<int> bank;   ///< 1 or 2, where the code names one
    std::optional<char> cam;   ///< 'A' or 'B', where the code names one
    std::string description;   ///< one short English line in our own words; blank when not in our table
    bool makerDefined = false; ///< its meaning is the maker's own
};

/// Trimmed and in capitals; empty unless the text has the form of a code: a letter P, C, B or U, a digit 0 to
/// 3 and three hexadecimal digits.   Source: SAE J2012.
std::optional<std::string> troubleCodeFromText(std::string_view text);

/// The code in two bytes as the engine computer sends it: two bits of letter, two bits of digit, three
/// nibbles. Empty for 00 00, which is padding and no code.   Source: SAE J2012; SAE J1979.
std::optional<std::string> troubleCodeFromBytes(std::uint8_t high, std::uint8_t low);

/// What a code means. Empty unless the text has the form of a code.
/// Source: SAE J2012 generic definitions of cam, crank and oil pressure codes, worded anew.
std::optional<TroubleCode> describeTroubleCode(std::string_view text);

} // namespace milehold::core
