// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include "sample-shop/names.h"

/// What people say and write down in the sample shop.
namespace milehold::sample {

inline constexpr std::array<Text, 26> kRattleConcerns = {
    "Rattles for two or three seconds on the first start of the morning, then it is gone.",
    "Sounds like a handful of bolts in a coffee can when I start it cold.",
    "Loud clatter right at start-up, only after it sat overnight.",
    "My neighbor says he can hear it start from his kitchen.",
    "Bad noise at start, goes away before I can get the hood up.",
    "Grinding rattle when cold. Fine all day after that.",
    "It never did this before the last oil change.",
    "Rattle at start getting longer every week.",
    "Makes a racket for a second or so if it sits more than a few hours.",
    "Cold start noise from the front of the engine.",
    "Wife heard a noise like a diesel when starting at the airport after a week away.",
    "Chattering noise at start-up, worse when it is cold outside.",
    "Start-up rattle. Was told at the tire place that it is the timing chain.",
    "Clacking for about three seconds. Had a video of it on the phone.",
    "Loud every morning. Embarrassing in the parking garage.",
    "Sounds fine to me but my son says the start is not right.",
    "It growls when I start it, then the oil light goes off and so does the noise.",
    "Noise at first start only. Second start is always quiet.",
    "Wants the start-up noise looked at before a long trip.",
    "Bought it used two months ago, rattles at every cold start since.",
    "Rattle at start on the passenger side, I think.",
    "Been doing it since winter, now it does it in the afternoon too.",
    "Quick metal sound at start, like shaking a toolbox.",
    "Only does it after work, when it stood all day in the lot.",
    "It takes longer to get quiet than it used to.",
    "Heard it at the drive-up window. The kid asked if it was going to blow up."};

inline constexpr std::array<Text, 10> kCodeConcerns = {
    "Check engine light on since Tuesday. Also a noise at start.",
    "Light came on going up the grade, runs a little rough at idle.",
    "Check engine light; parts store read a camshaft code.",
    "Light on, lost some power, and it rattles cold.",
    "Stumbles at the stop sign, light is on.",
    "Fuel mileage dropped and the light is on.",
    "Light comes and goes. Idle hunts when warm.",
    "Failed inspection for the light.",
    "Engine light on, surges a little at 40.",
    "Light on again. It was off for a month."};

inline constexpr std::array<Text, 6> kChainConcerns = {"Rattle that does not go away any more, even warm.",
                                                       "Steady chain-like noise at idle, front of engine.",
                                                       "Slapping noise at 1,500 rpm, all the time now.",
                                                       "Noise with the hood open sounds like a loose chain.",
                                                       "Whirring and slapping from the front cover.",
                                                       "Ran low on oil once, has been noisy since."};

inline constexpr std::array<Text, 12> kReturnConcerns = {
    "The noise is back, same as before.",
    "Same rattle as when I brought it in the first time.",
    "It was quiet for a while. Now it does it again on cold mornings.",
    "Rattling again. You fixed this already.",
    "Started again about a week ago, same sound.",
    "Noise came back after the trip over the pass.",
    "It is not as loud as it was, but it is the same noise.",
    "Back again. Not happy.",
    "Heard it again on Monday and every morning since.",
    "Quiet until it got cold, then it came back.",
    "Same noise at start. My husband says three seconds.",
    "You told me to come back if it did it again. It did."};

inline constexpr std::array<Text, 16> kVisitConcerns = {"Oil and filter, rotate tires.",
                                                        "Oil change due.",
                                                        "Brakes squeal in the morning.",
                                                        "Front brakes, felt it in the pedal.",
                                                        "State inspection.",
                                                        "Battery weak, would not start at the store.",
                                                        "Slow leak in the left rear tire.",
                                                        "A/C blows warm.",
                                                        "Wiper blades and a headlamp bulb.",
                                                        "Going on a trip, look it over.",
                                                        "Coolant smell after parking.",
                                                        "Clunk over speed bumps.",
                                                        "Wants new tires put on.",
                                                        "Serpentine belt chirps.",
                                                        "Cabin filter and oil.",
                                                        "Alternator light flickers."};

inline constexpr std::array<Text, 16> kVisitCorrections = {
    "Changed oil and filter, rotated tires, set pressures.",
    "Changed oil and filter. Listened to the start: quiet.",
    "Cleaned and greased brake hardware.",
    "Front pads and rotors, road-tested.",
    "Inspected, passed.",
    "Replaced battery, cleaned terminals.",
    "Plugged tire, no other leak.",
    "Found leak at the service port, sealed and charged.",
    "Fitted blades and bulb.",
    "Looked over, topped up washer, nothing found.",
    "Replaced upper hose and clamps.",
    "Replaced stabilizer links.",
    "Mounted and balanced four tires.",
    "Replaced belt.",
    "Changed oil, engine filter and cabin filter.",
    "Cleaned ground strap, charging voltage is good."};

inline constexpr std::array<Text, 5> kUnrelatedCauses = {
    "Loose heat shield on the front pipe. Cold start is quiet.",
    "Exhaust clamp rattles. Timing drive is quiet.", "Belt tensioner pulley. Nothing from the timing cover.",
    "Cracked skid plate bracket.", "Injector tick, normal for this engine. No rattle at three cold starts."};

inline constexpr std::array<Text, 4> kNotReproducedCauses = {
    "Two cold starts after 12 hours, both quiet. Asked the owner to film the next one.",
    "Kept overnight, no rattle. Customer to come back when it does it.",
    "Not heard at three starts. No codes.", "Quiet here. Ordered nothing; watch it."};

inline constexpr std::array<Text, 8> kPhaserCauses = {
    "Lock pin loose in its bore, vane free at rest.",
    "Lock pin does not seat after shutdown; phaser free about 6 degrees by hand.",
    "Play at the lock pin well beyond the other bank.",
    "Phaser drains overnight and bangs until the pin finds its hole.",
    "Commanded and actual angle 9 degrees apart cold, pin worn.",
    "Pin bore hammered oval.",
    "Vane seals leak, pin not locked with the engine stopped.",
    "Return spring weak, phaser rests off its stop."};

inline constexpr std::array<Text, 5> kValveCauses = {
    "Control valve screen clogged, spool slow to return.", "Valve sticks when cold, current normal.",
    "Debris in the valve screen, oil past due.",
    "Valve leaks down overnight; the gallery is empty in the morning.",
    "Slow response on the bench, the phaser itself holds."};

inline constexpr std::array<Text, 5> kChainCauses = {
    "Chain stretched past the mark, tensioner near the end of its travel.",
    "Guide worn through on the slack side, plastic in the pan.",
    "Tensioner collapses when standing; guide face cracked.",
    "Chain slack on both banks, phasers loose as well.",
    "Tensioner rack worn, chain 3 links past the window."};

inline constexpr std::array<Text, 4> kSoftwareCauses = {
    "Old calibration moves the cams before oil pressure is up.",
    "Calibration two levels behind; the newer one waits for the lock pin.",
    "Software commands the phaser at crank. Hardware play is within reason.",
    "Superseded calibration on the engine computer."};

inline constexpr std::array<Text, 4> kSludgeRemarks = {
    " Heavy varnish under the fill cap.", " Sludge in the valve valley; told the owner about intervals.",
    " Oil black and 3 quarts low.", " Pan has deposits, cleaned what could be reached."};

inline constexpr std::array<Text, 5> kQuietEndings = {
    " Stood overnight, started quiet.", " Cold start after 14 hours: no noise.",
    " Two cold starts, both quiet.", " Quiet at delivery, owner listened.", " No rattle in the morning."};

inline constexpr std::array<Text, 3> kNoisyEndings = {
    " Still rattles at the cold start. Owner told, wants it back today.",
    " Noise shorter but still there the next morning.", " Cold start next morning still noisy."};

inline constexpr std::array<Text, 2> kHurriedEndings = {" Owner could not wait for the cold start.",
                                                        " Picked up the same evening, cold start not done."};

inline constexpr std::array<Text, 7> kQuietNotes = {"Says it starts like new.",
                                                    "No noise at all.",
                                                    "Happy with it.",
                                                    "Quiet, even last week when it was freezing.",
                                                    "Has not heard it since.",
                                                    "All good, on the road, short call.",
                                                    ""};
inline constexpr std::array<Text, 5> kNoiseNotes = {
    "Heard it again, will book in.", "Back since the cold snap.", "A second or so, not every day.",
    "Wants to know who pays.", "Says it is the same noise."};
inline constexpr std::array<Text, 4> kNoAnswerNotes = {"Left a message.", "Rang out.", "Mailbox full.", ""};
inline constexpr std::array<Text, 3> kElsewhereNotes = {
    "Had it done nearer to work.", "Dealer did it under a campaign.", "Brother-in-law's shop put a kit in."};

inline constexpr std::array<Text, 3> kVoidReasons = {"Written on the wrong vehicle.", "Entered twice.",
                                                     "Customer took it away before any work."};

} // namespace milehold::sample
