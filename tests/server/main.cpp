// SPDX-License-Identifier: GPL-3.0-or-later
#include "tests/server/on_server.h"
#include "tests/server/writer.h"

#include <QCoreApplication>

#include <cstdlib>
#include <cstring>

namespace milehold::test {

int manyOrFew(int many, int few) {
    const char* full = std::getenv("MILEHOLD_FULL");
    return full != nullptr && std::strcmp(full, "1") == 0 ? many : few;
}

std::unique_ptr<QProcess> startWriter(const std::string& address, int jobs, int mark) {
    auto process = std::make_unique<QProcess>();
    process->start(QCoreApplication::applicationFilePath(),
                   {QStringLiteral("--write"), QString::fromStdString(address), QString::number(jobs),
                    QString::number(mark)});
    EXPECT_TRUE(process->waitForStarted());
    return process;
}

} // namespace milehold::test

/// `--write ADDRESS JOBS MARK` and `--watch ADDRESS` are stations of the tests; anything else runs the tests.
int main(int argc, char** argv) {
    const bool isWriter = argc == 5 && std::strcmp(argv[1], "--write") == 0;
    const bool isWatcher = argc == 3 && std::strcmp(argv[1], "--watch") == 0;
    if (!isWriter && !isWatcher)
        ::testing::InitGoogleTest(&argc, argv);
    const QCoreApplication application(argc, argv);
    if (isWriter)
        return milehold::test::writeToServer(argv[2], std::atoi(argv[3]), std::atoi(argv[4]));
    if (isWatcher)
        return milehold::test::watchServer(argv[2]);
    return RUN_ALL_TESTS();
}
