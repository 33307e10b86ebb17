// SPDX-License-Identifier: GPL-3.0-or-later
// The order in which a file and a save reach the disk, as the system itself reports it (strace): what refers
// to something becomes durable after it.
#include "storage/attachment_store.h"
#include "tests/faults/children.h"
#include "tests/faults/saver.h"
#include "tests/storage/support/shop_fixture.h"

#include <fstream>
#include <iostream>
#include <sys/wait.h>
#include <unistd.h>

namespace milehold::test {

int attachOnce(const char* folder, const char* file) {
    auto shop = storage::Shop::open(folder);
    if (!shop)
        return 3;
    const auto rows = (*shop)->jobs().rows({.limit = 1});
    if (!rows || rows->empty())
        return 4;
    return storage::attachmentsOf(**shop).add(rows->front().id, file, "photo.png") ? 0 : 5;
}

namespace {

/// The calls of a traced child, one a line, with the paths of descriptors in angle brackets. Blank: no
/// tracing here.
std::vector<std::string> tracedCalls(const std::vector<std::string>& child, const fs::path& trace) {
    const pid_t pid = ::fork();
    if (pid == 0) {
        std::vector<std::string> words = {
            "strace",
            "-f",
            "-y",
            "-qq",
            "-o",
            trace.string(),
            "-e",
            "trace=openat,fsync,fdatasync,rename,renameat,renameat2,pwrite64,ftruncate",
            "/proc/self/exe"};
        // The link would be strace itself once it runs.
        words.back() = fs::read_symlink("/proc/self/exe").string();
        words.insert(words.end(), child.begin(), child.end());
        std::vector<char*> list;
        for (auto& word : words)
            list.push_back(word.data());
        list.push_back(nullptr);
        ::execvp("strace", list.data());
        ::_exit(99);
    }
    int status = 0;
    ::waitpid(pid, &status, 0);
    if (!WIFEXITED(status) || WEXITSTATUS(status) != 0)
        return {};
    std::vector<std::string> calls;
    std::ifstream in(trace);
    for (std::string line; std::getline(in, line);)
        calls.push_back(line);
    return calls;
}

/// The first call from `from` on that holds both texts; the number of calls where there is none.
std::size_t find(const std::vector<std::string>& calls, std::size_t from, const std::string& call,
                 const std::string& path) {
    for (std::size_t i = from; i < calls.size(); ++i) {
        if (calls[i].find(call) != std::string::npos && calls[i].find(path) != std::string::npos)
            return i;
    }
    return calls.size();
}

} // namespace

TEST(SyncOrder, AnAttachmentIsDurableBeforeItsRowAndAJournalBeforeItsPages) {
    const TemporaryFolder temporary;
    const fs::path folder = temporary.path() / "Order.milehold";
    const Bench bench = makeBenchShop(folder);
    {
        auto shop = storage::Shop::open(folder);
        ASSERT_OK(shop);
        ASSERT_OK((*shop)->jobs().save({benchJob(bench, 1), {}, {}}));
        ASSERT_OK((*shop)->close());
    }
    const fs::path photo = temporary.path() / "photo.png";
    std::ofstream(photo, std::ios::binary) << "\x89PNG\r\n\x1A\n" << std::string(100'000, 'p');
    const auto calls =
        tracedCalls({"--attach", folder.string(), photo.string()}, temporary.path() / "trace.txt");
    if (calls.empty())
        GTEST_SKIP() << "the system's calls cannot be watched here (strace is missing or not permitted)";

    const std::string kept = (folder / "store" / "attachments").string();
    const std::string database = (folder / "store" / "shop.db>").string();
    const std::string journal = (folder / "store" / "shop.db-journal>").string();
    const auto made = find(calls, 0, "O_EXCL", kept);
    ASSERT_LT(made, calls.size()) << "made as a new file";
    EXPECT_NE(calls[made].find("0600"), std::string::npos) << calls[made];
    const auto synced = find(calls, made, "fsync(", kept);
    const auto renamed = find(calls, made, "rename", kept);
    ASSERT_LT(renamed, calls.size());
    EXPECT_LT(synced, renamed) << "its bytes are durable before it gets its name";
    const auto folderSynced = find(calls, renamed, "fsync(", kept);
    const auto journalWritten = find(calls, renamed, "pwrite64(", journal);
    ASSERT_LT(journalWritten, calls.size()) << "the row follows";
    EXPECT_LT(folderSynced, journalWritten) << "its name is durable before a row refers to it";
    EXPECT_EQ(find(calls, made, "pwrite64(", database), find(calls, renamed, "pwrite64(", database))
        << "no page of the database changed before";

    const auto journalSynced = find(calls, journalWritten, "sync(", journal);
    const auto pageWritten = find(calls, journalWritten, "pwrite64(", database);
    const auto pagesSynced = find(calls, pageWritten, "sync(", database);
    const auto ended = find(calls, pagesSynced, "ftruncate(", journal);
    EXPECT_LT(journalSynced, pageWritten) << "the old pages are safe before they are overwritten";
    ASSERT_LT(pagesSynced, calls.size());
    ASSERT_LT(ended, calls.size()) << "the commit: the journal is cut off once the pages are durable";
    EXPECT_EQ(find(calls, pagesSynced, "pwrite64(", database), calls.size()) << "no page after the sync";
    EXPECT_LT(find(calls, ended, "sync(", journal), calls.size())
        << "and that is durable too (synchronous = EXTRA)";
    std::cout
        << "order on the disk: file, name, journal, pages, end of the journal; each synced before the next ("
        << calls.size() << " calls)\n";
}

} // namespace milehold::test
