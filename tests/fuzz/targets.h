// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include <array>
#include <string_view>

namespace milehold::fuzz {

/// Each takes any bytes and aborts when a promise about them is broken; a sanitizer sees the rest.
void lives(std::string_view bytes); ///< lives tables and the CSV reader: write and read again is the same
void table(std::string_view bytes); ///< the CSV reader and writer alone: x = parse(write(x)), no formula cell
void records(std::string_view bytes);  ///< CSV imports into a shop, as a trial: the shop stays as it was
void header(std::string_view bytes);   ///< the look at a shop's file before it is opened
void manifest(std::string_view bytes); ///< backup manifests: what is read is written back the same
void chain(std::string_view bytes);    ///< the canonical form of the change log, and the texts in it

struct Target {
    const char* name; ///< also the folder of its seeds
    void (*run)(std::string_view bytes);
};

inline constexpr std::array kTargets = {Target{"lives", lives},       Target{"table", table},
                                        Target{"records", records},   Target{"header", header},
                                        Target{"manifest", manifest}, Target{"chain", chain}};

} // namespace milehold::fuzz
