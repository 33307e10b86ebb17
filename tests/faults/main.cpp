// SPDX-License-Identifier: GPL-3.0-or-later
#include "tests/faults/saver.h"
#include "tests/faults/size_limit.h"

#include <QCoreApplication>

#include <gtest/gtest.h>

#include <cstring>

/// `--save FOLDER` and `--fill FOLDER` are the children of the tests; anything else runs the tests.
int main(int argc, char** argv) {
    const bool isSaver = argc == 3 && std::strcmp(argv[1], "--save") == 0;
    const bool isFiller = argc == 3 && std::strcmp(argv[1], "--fill") == 0;
    if (!isSaver && !isFiller)
        ::testing::InitGoogleTest(&argc, argv);
    const QCoreApplication application(argc, argv);
    if (isSaver)
        return milehold::test::saveUntilKilled(argv[2]);
    if (isFiller)
        return milehold::test::saveUnderASizeLimit(argv[2]);
    return RUN_ALL_TESTS();
}
