// SPDX-License-Identifier: GPL-3.0-or-later
// The network itself goes away: the server's machine keeps its connections and answers nothing, not even with
// a refusal. A network of two ends is made for it (namespaces, which the system lets only its keeper make).
#include "tests/server/on_server.h"
#include "tests/server/proxy.h"

#include <QCoreApplication>
#include <QElapsedTimer>
#include <QProcess>

#include <algorithm>
#include <iostream>
#include <unistd.h>

namespace milehold::test {

namespace {

bool ran(const QString& line) {
    QProcess process;
    process.start(QStringLiteral("sh"), {QStringLiteral("-c"), line + QStringLiteral(" 2>/dev/null")});
    return process.waitForFinished(10'000) && process.exitStatus() == QProcess::NormalExit &&
           process.exitCode() == 0;
}

/// Two ends of a network: this machine's, and one in a namespace of its own.
class TwoEnds {
public:
    TwoEnds() {
        const auto mark = QString::number(::getpid() % 100'000);
        space_ = QStringLiteral("mh") + mark;
        near_ = QStringLiteral("mhn") + mark;
        const QString far = QStringLiteral("mhf") + mark;
        made_ =
            ran(QStringLiteral("ip netns add ") + space_) &&
            ran(QStringLiteral("ip link add %1 type veth peer name %2 netns %3").arg(near_, far, space_)) &&
            addAddress() && ran(QStringLiteral("ip link set %1 up").arg(near_)) &&
            ran(QStringLiteral("ip -n %1 addr add 198.18.231.2/30 dev %2").arg(space_, far)) &&
            ran(QStringLiteral("ip -n %1 link set %2 up").arg(space_, far));
    }
    ~TwoEnds() {
        ran(QStringLiteral("ip link del ") + near_);
        ran(QStringLiteral("ip netns del ") + space_);
    }
    TwoEnds(const TwoEnds&) = delete;
    TwoEnds& operator=(const TwoEnds&) = delete;

    bool isMade() const { return made_; }
    /// This machine's end; of the block that is kept for such trials (RFC 2544).
    static const char* address() { return "198.18.231.1"; }
    bool addAddress() const { return ran(QStringLiteral("ip addr add 198.18.231.1/30 dev ") + near_); }
    bool takeAddress() const { return ran(QStringLiteral("ip addr del 198.18.231.1/30 dev ") + near_); }
    const QString& space() const { return space_; }

private:
    QString space_;
    QString near_;
    bool made_ = false;
};

/// What a watching station says, line by line.
class Watcher {
public:
    Watcher(const TwoEnds& ends, const std::string& address) {
        process_.start(QStringLiteral("ip"), {QStringLiteral("netns"), QStringLiteral("exec"), ends.space(),
                                              QCoreApplication::applicationFilePath(),
                                              QStringLiteral("--watch"), QString::fromStdString(address)});
    }
    ~Watcher() {
        process_.kill();
        process_.waitForFinished();
    }
    Watcher(const Watcher&) = delete;
    Watcher& operator=(const Watcher&) = delete;
    /// The next line that begins so; blank after `milliseconds`.
    std::string next(const char* begins, int milliseconds) {
        QElapsedTimer clock;
        clock.start();
        while (clock.elapsed() < milliseconds) {
            while (process_.canReadLine()) {
                const QByteArray line = process_.readLine().trimmed();
                if (line.startsWith(begins))
                    return line.toStdString();
            }
            process_.waitForReadyRead(20);
        }
        return {};
    }

private:
    QProcess process_;
};

} // namespace

class NetworkCut : public OnServer {};

TEST_F(NetworkCut, IsToldWithinSevenSecondsAndHealsByItself) {
    const TwoEnds ends;
    if (!ends.isMade())
        GTEST_SKIP()
            << "this user may not make a network of its own (ip netns, veth): the cut stays untried here";
    const CuttingProxy proxy(server().port(), TwoEnds::address());
    // Another machine is spoken to in TLS only.
    const std::string through = std::string("postgresql://keeper@") + TwoEnds::address() + ":" +
                                std::to_string(proxy.port()) + "/" + database() + "?sslmode=require";
    Watcher watcher(ends, through);
    ASSERT_EQ(watcher.next("ready", 20'000), "ready");
    ASSERT_NE(watcher.next("online", 5'000), "");
    const int times = manyOrFew(20, 1);
    std::vector<qint64> told;
    std::vector<qint64> healed;
    for (int i = 0; i < times; ++i) {
        ASSERT_NE(watcher.next("online", 10'000), "");
        QElapsedTimer clock;
        clock.start();
        ASSERT_TRUE(ends.takeAddress());
        ASSERT_NE(watcher.next("offline", 30'000), "") << "cut " << i;
        told.push_back(clock.elapsed());
        ASSERT_TRUE(ends.addAddress());
        clock.start();
        ASSERT_NE(watcher.next("online", 30'000), "") << "cut " << i;
        healed.push_back(clock.elapsed());
    }
    std::cout << "T11 network cut x " << times << ": offline told after at most " << std::ranges::max(told)
              << " ms, online again after at most " << std::ranges::max(healed) << " ms\n";
    EXPECT_LT(std::ranges::max(told), 7'000);
    EXPECT_LT(std::ranges::max(healed), 15'000);
}

} // namespace milehold::test
