// SPDX-License-Identifier: GPL-3.0-or-later
#include "core/shop/trouble_code.h"

#include <gtest/gtest.h>

#include <set>

namespace milehold::core {
namespace {

// Source: SAE J2012 (letter, digit, three nibbles) as sent by SAE J1979; bytes worked by hand.
TEST(TroubleCode, ComesFromTwoBytes) {
    EXPECT_EQ(troubleCodeFromBytes(0x00, 0x11), "P0011");
    EXPECT_EQ(troubleCodeFromBytes(0x03, 0x40), "P0340");
    EXPECT_EQ(troubleCodeFromBytes(0x05, 0x2A), "P052A");
    EXPECT_EQ(troubleCodeFromBytes(0x00, 0x0A), "P000A");
    EXPECT_EQ(troubleCodeFromBytes(0x14, 0x56), "P1456");
    EXPECT_EQ(troubleCodeFromBytes(0x41, 0x23), "C0123");
    EXPECT_EQ(troubleCodeFromBytes(0x81, 0x9F), "B019F");
    EXPECT_EQ(troubleCodeFromBytes(0xC1, 0x00), "U0100");
    EXPECT_EQ(troubleCodeFromBytes(0xFF, 0xFF), "U3FFF");
}

TEST(TroubleCode, OfZeroBytesIsPadding) {
    EXPECT_FALSE(troubleCodeFromBytes(0, 0));
}

TEST(TroubleCode, HasALetterADigitAndThreeHexadecimalDigits) {
    EXPECT_EQ(troubleCodeFromText(" p052a\n"), "P052A");
    EXPECT_EQ(troubleCodeFromText("U3FFF"), "U3FFF");
    for (const char* text : {"", "P", "P001", "P00111", "X0011", "P4011", "P00G1", "0011P", "P 011", "P-011"})
        EXPECT_FALSE(troubleCodeFromText(text)) << text;
}

TEST(TroubleCode, EveryTwoBytesMakeACodeOfThatForm) {
    for (unsigned value = 1; value <= 0xFFFF; ++value) {
        const auto code = troubleCodeFromBytes(static_cast<std::uint8_t>(value >> 8U),
                                               static_cast<std::uint8_t>(value & 0xFFU));
        ASSERT_TRUE(code);
        ASSERT_EQ(troubleCodeFromText(*code), code);
    }
}

struct Known {
    const char* code;
    TroubleClass kind;
    std::optional<int> bank;
    std::optional<char> cam;
};

// Source: SAE J2012 generic definitions (bank, cam and kind of fault; the wording is ours).
TEST(TroubleCode, KnowsBankCamAndKindOfTimingCodes) {
    const Known known[] = {
        {"P0008", TroubleClass::EnginePosition, 1, std::nullopt},
        {"P000D", TroubleClass::SlowResponse, 2, 'B'},
        {"P0010", TroubleClass::ActuatorCircuit, 1, 'A'},
        {"P0011", TroubleClass::OverAdvanced, 1, 'A'},
        {"P0015", TroubleClass::OverRetarded, 1, 'B'},
        {"P0018", TroubleClass::Correlation, 2, 'A'},
        {"P0022", TroubleClass::OverRetarded, 2, 'A'},
        {"P0024", TroubleClass::OverAdvanced, 2, 'B'},
        {"P0029", TroubleClass::ActuatorCircuit, 2, 'B'},
        {"P0083", TroubleClass::ActuatorCircuit, 2, 'A'},
        {"P0300", TroubleClass::Misfire, std::nullopt, std::nullopt},
        {"P0336", TroubleClass::CrankSensor, std::nullopt, 'A'},
        {"P0389", TroubleClass::CrankSensor, std::nullopt, 'B'},
        {"P0344", TroubleClass::CamSensor, 1, 'A'},
        {"P0391", TroubleClass::CamSensor, 2, 'B'},
        {"P0522", TroubleClass::OilPressure, std::nullopt, std::nullopt},
        {"P0524", TroubleClass::OilPressure, std::nullopt, std::nullopt},
        {"P052C", TroubleClass::OverAdvanced, 2, 'A'},
        {"P054D", TroubleClass::OverRetarded, 2, 'B'},
    };
    std::set<std::string> descriptions;
    for (const auto& k : known) {
        const auto code = describeTroubleCode(k.code);
        ASSERT_TRUE(code);
        EXPECT_EQ(code->kind, k.kind) << k.code;
        EXPECT_EQ(code->bank, k.bank) << k.code;
        EXPECT_EQ(code->cam, k.cam) << k.code;
        EXPECT_FALSE(code->makerDefined) << k.code;
        EXPECT_FALSE(code->description.empty()) << k.code;
        EXPECT_TRUE(descriptions.insert(code->description).second) << k.code;
    }
}

TEST(TroubleCode, SaysInOurWordsWhatItMeans) {
    EXPECT_EQ(describeTroubleCode("p0011")->description,
              "Cam A, bank 1: timing too far advanced, or not following its command");
    EXPECT_EQ(describeTroubleCode("P0016")->description,
              "Cam sensor A, bank 1: does not agree with the crank sensor");
    EXPECT_EQ(describeTroubleCode("P052B")->description,
              "Cam A, bank 1: timing too far retarded at a cold start");
}

// Source: SAE J2012, allocation of numbers, from memory: P1 and P30 to P33 and the 1 and 2 of other letters.
TEST(TroubleCode, SaysWhenTheMeaningIsTheMakersOwn) {
    for (const char* text : {"P1456", "P3000", "P33FF", "B1000", "C2000", "U1000"})
        EXPECT_TRUE(describeTroubleCode(text)->makerDefined) << text;
    for (const char* text : {"P0011", "P2000", "P3400", "B0100", "U0100"})
        EXPECT_FALSE(describeTroubleCode(text)->makerDefined) << text;
    EXPECT_EQ(describeTroubleCode("P1456")->description, "");
    EXPECT_FALSE(describeTroubleCode("nonsense"));
}

} // namespace
} // namespace milehold::core
