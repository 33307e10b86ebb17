// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include <array>
#include <string_view>

/// Invented people, places and vehicles of the sample shop. None is meant to be anybody or anything.
namespace milehold::sample {

using Text = std::string_view;

inline constexpr std::array<Text, 56> kGivenNames = {
    "Ada",     "Anselm", "Bettina", "Bram",     "Calla",  "Corin",  "Dagny",  "Darrel", "Edda",   "Emory",
    "Fenna",   "Floyd",  "Gerda",   "Gideon",   "Hanne",  "Harlan", "Idony",  "Irving", "Jessa",  "Jonah",
    "Kaisa",   "Kelvin", "Lavinia", "Lorne",    "Maren",  "Milo",   "Nadia",  "Nestor", "Odile",  "Orrin",
    "Pella",   "Percy",  "Quilla",  "Ramona",   "Rufus",  "Sabra",  "Selwyn", "Tansy",  "Tobias", "Una",
    "Ulric",   "Vera",   "Virgil",  "Wanda",    "Wesley", "Xenia",  "Yusuf",  "Yvette", "Zelda",  "Zeke",
    "Abigail", "Bodil",  "Cyrus",   "Delphine", "Elias",  "Farah"};

inline constexpr std::array<Text, 64> kFamilyNames = {
    "Abendroth", "Amberly",     "Ashgrove",   "Barrowby",    "Birchall",     "Bonnefoy",  "Brackwater",
    "Cawdrey",   "Chalke",      "Colverdale", "Coombes",     "Dallimore",    "Darnaway",  "Dunmarsh",
    "Eastlake",  "Elverton",    "Fairlamb",   "Farrowby",    "Fennimore",    "Galbreath", "Gorsedale",
    "Greenhow",  "Hallowell",   "Harkaway",   "Hathersay",   "Hollowood",    "Ingleby",   "Inskip",
    "Jarrowby",  "Jessop",      "Kettlewell", "Kinglake",    "Lambrecht",    "Lathbury",  "Lovejoy",
    "Maddern",   "Marchbank",   "Merriden",   "Netherby",    "Nightshade",   "Oakeshott", "Okonjo",
    "Ottaway",   "Paddock",     "Penhallow",  "Pickersgill", "Quillfeather", "Quested",   "Ravenel",
    "Rosethorn", "Sandoval",    "Silverdale", "Sorrell",     "Tamsett",      "Thackeray", "Threlkeld",
    "Underhay",  "Vantongeren", "Wainfleet",  "Weatherby",   "Whitlock",     "Yarwood",   "Yelverton",
    "Zeller"};

inline constexpr std::array<Text, 5> kFleets = {"Creekside Parcel", "Old Mill Plumbing",
                                                "Barrow County Roads", "Ferncliff Linen Service",
                                                "Two Rivers Courier"};

inline constexpr std::array<Text, 6> kBestTimes = {"after 5 pm", "mornings",          "lunch hour",
                                                   "text first", "weekdays before 3", "any time"};

inline constexpr std::array<Text, 10> kCustomerNotes = {
    "Brings the dog; leave the window open a little.",
    "Pays by card only.",
    "Always ask for the daughter, she drives the vehicle now.",
    "Wants the old parts back in a box.",
    "Prefers a message to a call.",
    "Knows engines; explain the numbers.",
    "Needs a ride home when the vehicle stays.",
    "Tows a camper in summer.",
    "Will wait in the lobby.",
    "Call before anything over the quote."};

} // namespace milehold::sample
