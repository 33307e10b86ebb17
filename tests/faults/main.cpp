// SPDX-License-Identifier: GPL-3.0-or-later
#include "tests/faults/children.h"
#include "tests/faults/saver.h"
#include "tests/faults/size_limit.h"

#include <QCoreApplication>

#include <gtest/gtest.h>

#include <cstdlib>
#include <string_view>

/// `--save FOLDER` and the like are the children of the tests; anything else runs the tests.
int main(int argc, char** argv) {
    using namespace milehold::test;
    const std::string_view what = argc >= 3 ? argv[1] : "";
    const bool isChild = what == "--save" || what == "--answer" || what == "--fill" || what == "--backup" ||
                         what == "--migrate" || what == "--open" || what == "--beside" ||
                         what == "--attach" || what == "--full";
    if (!isChild)
        ::testing::InitGoogleTest(&argc, argv);
    const QCoreApplication application(argc, argv);
    if (what == "--save")
        return saveUntilKilled(argv[2]);
    if (what == "--answer")
        return answerUntilKilled(argv[2]);
    if (what == "--fill")
        return saveUnderASizeLimit(argv[2]);
    if (what == "--backup")
        return backUpUntilKilled(argv[2]);
    if (what == "--migrate")
        return migrateSlowly(argv[2]);
    if (what == "--open")
        return openUntilKilled(argv[2]);
    if (what == "--attach" && argc == 4)
        return attachOnce(argv[2], argv[3]);
    if (what == "--full" && argc == 4)
        return fillDisk(argv[2], argv[3]);
    if (what == "--beside" && argc == 4)
        return saveBesideOthers(argv[2], std::atoi(argv[3]));
    return RUN_ALL_TESTS();
}
