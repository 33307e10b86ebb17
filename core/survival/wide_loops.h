// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include <cstddef> // tells which C library it is

/// Before a function whose loops are worth it: it is compiled twice, plainly and for processors with 256-bit
/// vectors, and the loader takes the one that fits. Neither contracts a product and a sum, so that both give
/// the same numbers. Where the loader cannot choose (or a sanitizer looks on) there is the plain one alone.
#if defined(__GNUC__) && !defined(__clang__) && defined(__x86_64__) && defined(__gnu_linux__) &&             \
    defined(__GLIBC__) && defined(__OPTIMIZE__) && !defined(__SANITIZE_ADDRESS__) &&                         \
    !defined(__SANITIZE_THREAD__)
#define MILEHOLD_WIDE_LOOPS [[gnu::target_clones("default", "avx2")]]
#else
#define MILEHOLD_WIDE_LOOPS
#endif
