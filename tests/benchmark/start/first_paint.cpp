// SPDX-License-Identifier: GPL-3.0-or-later
// `first_paint ROUNDS PROGRAM [ARGUMENT...]` on a blank X screen: milliseconds from the start of the program
// until a pixel in the middle of the screen changes, and the memory that is the program's own (PSS) three
// seconds later. Prints the median and the range. See start.sh.
#include <QElapsedTimer>
#include <QFile>
#include <QGuiApplication>
#include <QImage>
#include <QPixmap>
#include <QProcess>
#include <QScreen>
#include <QThread>

#include <algorithm>
#include <cstdio>
#include <cstdlib>
#include <vector>

namespace {

QRgb middle() {
    auto* screen = QGuiApplication::primaryScreen();
    const auto centre = screen->geometry().center();
    const QImage one = screen->grabWindow(0, centre.x(), centre.y(), 1, 1).toImage();
    if (one.isNull()) {
        std::fprintf(stderr, "first_paint: the screen is gone\n");
        std::exit(1);
    }
    return one.pixel(0, 0);
}

double megabytesOf(qint64 pid) {
    QFile file(QStringLiteral("/proc/%1/smaps_rollup").arg(pid));
    if (!file.open(QIODevice::ReadOnly))
        return 0;
    for (const auto& line : file.readAll().split('\n'))
        if (line.startsWith("Pss:"))
            return line.mid(4).simplified().split(' ').constFirst().toDouble() / 1024;
    return 0;
}

void print(const char* what, std::vector<double> values) {
    std::ranges::sort(values);
    std::printf("%s: median %.1f (%.1f to %.1f)\n", what, values[values.size() / 2], values.front(),
                values.back());
}

} // namespace

int main(int argc, char** argv) {
    const QGuiApplication program(argc, argv);
    const QStringList words = QGuiApplication::arguments();
    if (words.size() < 3)
        return 2;
    std::vector<double> painted;
    std::vector<double> held;
    for (int round = 0; round < words[1].toInt(); ++round) {
        const QRgb blank = middle();
        QProcess child;
        QElapsedTimer clock;
        clock.start();
        child.start(words[2], words.mid(3));
        while (middle() == blank && clock.elapsed() < 20'000)
            QThread::msleep(1);
        painted.push_back(static_cast<double>(clock.nsecsElapsed()) / 1e6);
        QThread::msleep(3000);
        held.push_back(megabytesOf(child.processId()));
        child.terminate(); // closes the shop in good order
        if (!child.waitForFinished(20'000))
            child.kill();
        while (middle() != blank)
            QThread::msleep(20);
    }
    print("first painted, ms", painted);
    print("memory, MB", held);
    return 0;
}
