// SPDX-License-Identifier: GPL-3.0-or-later
#include "core/shop/trouble_code.h"

#include <algorithm>
#include <cctype>

namespace milehold::core {

namespace {

constexpr char kLetters[] = {'P', 'C', 'B', 'U'};
constexpr char kDigits[] = "0123456789ABCDEF";

/// What is wrong with the signal of a circuit.
enum class Fault : std::uint8_t { None, Range, Low, High, Intermittent };

struct Row {
    std::uint16_t number; ///< the two bytes
    TroubleClass kind;
    char subject; ///< 'A', 'B': cam or sensor; 'i', 'e': intake or exhaust solenoid; 'c', 'd': cam at a cold
                  ///< start; 0
    std::uint8_t bank; ///< 0: none named
    Fault fault = Fault::None;
};

using enum TroubleClass;

// The bytes of a code are its number: P0011 is 0x0011, P052A is 0x052A.
constexpr Row kRows[] = {
    {0x0008, EnginePosition, 0, 1},
    {0x0009, EnginePosition, 0, 2},
    {0x000A, SlowResponse, 'A', 1},
    {0x000B, SlowResponse, 'B', 1},
    {0x000C, SlowResponse, 'A', 2},
    {0x000D, SlowResponse, 'B', 2},
    {0x0010, ActuatorCircuit, 'A', 1},
    {0x0011, OverAdvanced, 'A', 1},
    {0x0012, OverRetarded, 'A', 1},
    {0x0013, ActuatorCircuit, 'B', 1},
    {0x0014, OverAdvanced, 'B', 1},
    {0x0015, OverRetarded, 'B', 1},
    {0x0016, Correlation, 'A', 1},
    {0x0017, Correlation, 'B', 1},
    {0x0018, Correlation, 'A', 2},
    {0x0019, Correlation, 'B', 2},
    {0x0020, ActuatorCircuit, 'A', 2},
    {0x0021, OverAdvanced, 'A', 2},
    {0x0022, OverRetarded, 'A', 2},
    {0x0023, ActuatorCircuit, 'B', 2},
    {0x0024, OverAdvanced, 'B', 2},
    {0x0025, OverRetarded, 'B', 2},
    {0x0026, ActuatorCircuit, 'i', 1, Fault::Range},
    {0x0027, ActuatorCircuit, 'e', 1, Fault::Range},
    {0x0028, ActuatorCircuit, 'i', 2, Fault::Range},
    {0x0029, ActuatorCircuit, 'e', 2, Fault::Range},
    {0x0075, ActuatorCircuit, 'i', 1},
    {0x0076, ActuatorCircuit, 'i', 1, Fault::Low},
    {0x0077, ActuatorCircuit, 'i', 1, Fault::High},
    {0x0078, ActuatorCircuit, 'e', 1},
    {0x0079, ActuatorCircuit, 'e', 1, Fault::Low},
    {0x0080, ActuatorCircuit, 'e', 1, Fault::High},
    {0x0081, ActuatorCircuit, 'i', 2},
    {0x0082, ActuatorCircuit, 'i', 2, Fault::Low},
    {0x0083, ActuatorCircuit, 'i', 2, Fault::High},
    {0x0084, ActuatorCircuit, 'e', 2},
    {0x0085, ActuatorCircuit, 'e', 2, Fault::Low},
    {0x0086, ActuatorCircuit, 'e', 2, Fault::High},
    {0x0300, Misfire, 0, 0},
    {0x0335, CrankSensor, 'A', 0},
    {0x0336, CrankSensor, 'A', 0, Fault::Range},
    {0x0337, CrankSensor, 'A', 0, Fault::Low},
    {0x0338, CrankSensor, 'A', 0, Fault::High},
    {0x0339, CrankSensor, 'A', 0, Fault::Intermittent},
    {0x0340, CamSensor, 'A', 1},
    {0x0341, CamSensor, 'A', 1, Fault::Range},
    {0x0342, CamSensor, 'A', 1, Fault::Low},
    {0x0343, CamSensor, 'A', 1, Fault::High},
    {0x0344, CamSensor, 'A', 1, Fault::Intermittent},
    {0x0345, CamSensor, 'A', 2},
    {0x0346, CamSensor, 'A', 2, Fault::Range},
    {0x0347, CamSensor, 'A', 2, Fault::Low},
    {0x0348, CamSensor, 'A', 2, Fault::High},
    {0x0349, CamSensor, 'A', 2, Fault::Intermittent},
    {0x0365, CamSensor, 'B', 1},
    {0x0366, CamSensor, 'B', 1, Fault::Range},
    {0x0367, CamSensor, 'B', 1, Fault::Low},
    {0x0368, CamSensor, 'B', 1, Fault::High},
    {0x0369, CamSensor, 'B', 1, Fault::Intermittent},
    {0x0385, CrankSensor, 'B', 0},
    {0x0386, CrankSensor, 'B', 0, Fault::Range},
    {0x0387, CrankSensor, 'B', 0, Fault::Low},
    {0x0388, CrankSensor, 'B', 0, Fault::High},
    {0x0389, CrankSensor, 'B', 0, Fault::Intermittent},
    {0x0390, CamSensor, 'B', 2},
    {0x0391, CamSensor, 'B', 2, Fault::Range},
    {0x0392, CamSensor, 'B', 2, Fault::Low},
    {0x0393, CamSensor, 'B', 2, Fault::High},
    {0x0394, CamSensor, 'B', 2, Fault::Intermittent},
    {0x0520, OilPressure, 0, 0},
    {0x0521, OilPressure, 0, 0, Fault::Range},
    {0x0522, OilPressure, 0, 0, Fault::Low},
    {0x0523, OilPressure, 0, 0, Fault::High},
    {0x052A, OverAdvanced, 'c', 1},
    {0x052B, OverRetarded, 'c', 1},
    {0x052C, OverAdvanced, 'c', 2},
    {0x052D, OverRetarded, 'c', 2},
    {0x054A, OverAdvanced, 'd', 1},
    {0x054B, OverRetarded, 'd', 1},
    {0x054C, OverAdvanced, 'd', 2},
    {0x054D, OverRetarded, 'd', 2},
};

constexpr std::uint16_t kOilPressureTooLow = 0x0524;

int hexValue(char c) {
    const char* end = kDigits + 16;
    const char* found = std::find(kDigits, end, c);
    return found == end ? -1 : static_cast<int>(found - kDigits);
}

std::string ofCircuit(Fault fault) {
    switch (fault) {
    case Fault::None:
        return "circuit fault";
    case Fault::Range:
        return "signal out of range or not plausible";
    case Fault::Low:
        return "signal too low";
    case Fault::High:
        return "signal too high";
    case Fault::Intermittent:
        return "signal comes and goes";
    }
    return {};
}

std::optional<char> camOf(const Row& row) {
    switch (row.subject) {
    case 'A':
    case 'i':
    case 'c':
        return 'A';
    case 'B':
    case 'e':
    case 'd':
        return 'B';
    default:
        return std::nullopt;
    }
}

std::string describe(const Row& row) {
    const std::string bank = row.bank == 0 ? "" : ", bank " + std::to_string(row.bank);
    const std::string letter(1, camOf(row).value_or(' '));
    const std::string when = row.subject == 'c' || row.subject == 'd' ? " at a cold start" : "";
    switch (row.kind) {
    case EnginePosition:
        return "The cams of bank " + std::to_string(row.bank) + " do not stand right to the crank";
    case SlowResponse:
        return "Cam " + letter + bank + ": slow to follow its command";
    case OverAdvanced:
        return "Cam " + letter + bank + ": timing too far advanced" + when +
               (when.empty() ? ", or not following its command" : "");
    case OverRetarded:
        return "Cam " + letter + bank + ": timing too far retarded" + when;
    case Correlation:
        return "Cam sensor " + letter + bank + ": does not agree with the crank sensor";
    case CamSensor:
        return "Cam sensor " + letter + bank + ": " + ofCircuit(row.fault);
    case CrankSensor:
        return "Crank sensor " + letter + ": " + ofCircuit(row.fault);
    case ActuatorCircuit:
        if (row.subject == 'i' || row.subject == 'e')
            return std::string(row.subject == 'i' ? "Intake" : "Exhaust") + " control solenoid" + bank +
                   ": " + ofCircuit(row.fault);
        return "Cam " + letter + " actuator" + bank + ": " + ofCircuit(row.fault);
    case OilPressure:
        return "Oil pressure sensor: " + ofCircuit(row.fault);
    case Misfire:
        return "Misfires on several cylinders or at random";
    case Other:
        break;
    }
    return {};
}

} // namespace

std::optional<std::string> troubleCodeFromText(std::string_view text) {
    const auto isSpace = [](unsigned char c) { return std::isspace(c) != 0; };
    while (!text.empty() && isSpace(static_cast<unsigned char>(text.front())))
        text.remove_prefix(1);
    while (!text.empty() && isSpace(static_cast<unsigned char>(text.back())))
        text.remove_suffix(1);
    if (text.size() != 5)
        return std::nullopt;
    std::string code;
    for (const char c : text)
        code += c >= 'a' && c <= 'z' ? static_cast<char>(c - 'a' + 'A') : c;
    if (std::find(std::begin(kLetters), std::end(kLetters), code[0]) == std::end(kLetters))
        return std::nullopt;
    if (code[1] < '0' || code[1] > '3')
        return std::nullopt;
    if (hexValue(code[2]) < 0 || hexValue(code[3]) < 0 || hexValue(code[4]) < 0)
        return std::nullopt;
    return code;
}

std::optional<std::string> troubleCodeFromBytes(std::uint8_t high, std::uint8_t low) {
    if (high == 0 && low == 0)
        return std::nullopt;
    std::string code;
    code += kLetters[high >> 6U];
    code += kDigits[(high >> 4U) & 0x3U];
    code += kDigits[high & 0xFU];
    code += kDigits[low >> 4U];
    code += kDigits[low & 0xFU];
    return code;
}

std::optional<TroubleCode> describeTroubleCode(std::string_view text) {
    const auto code = troubleCodeFromText(text);
    if (!code)
        return std::nullopt;
    TroubleCode result;
    result.code = *code;
    // Powertrain codes P3000 to P33FF are the makers', P3400 to P3FFF are not; of the others 1 and 2 are the
    // makers'.
    result.makerDefined = (*code)[0] == 'P' ? (*code)[1] == '1' || ((*code)[1] == '3' && (*code)[2] < '4')
                                            : (*code)[1] == '1' || (*code)[1] == '2';
    if ((*code)[0] != 'P')
        return result;
    const int number = ((hexValue((*code)[1]) * 16 + hexValue((*code)[2])) * 16 + hexValue((*code)[3])) * 16 +
                       hexValue((*code)[4]);
    if (number == kOilPressureTooLow) {
        result.kind = OilPressure;
        result.description = "Engine oil pressure too low";
        return result;
    }
    const auto row =
        std::find_if(std::begin(kRows), std::end(kRows), [&](const Row& r) { return r.number == number; });
    if (row == std::end(kRows))
        return result;
    result.kind = row->kind;
    result.cam = camOf(*row);
    if (row->bank != 0)
        result.bank = row->bank;
    result.description = describe(*row);
    return result;
}

} // namespace milehold::core
