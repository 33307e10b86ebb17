// SPDX-License-Identifier: GPL-3.0-or-later
#include "app/cli/session.h"

#include <iostream>

int main(int argc, char** argv) {
    std::ios::sync_with_stdio(false);
    return milehold::cli::run(argc, argv, std::cout, std::cerr);
}
