// SPDX-License-Identifier: GPL-3.0-or-later
#include "app/desktop/desk.h"
#include "app/desktop/end_signals.h"
#include "app/desktop/error_sentence.h"
#include "app/desktop/picture_book.h"
#include "ui/theme/theme.h"

#include <QApplication>
#include <QCommandLineParser>
#include <QDate>
#include <QLocale>
#include <QTextStream>
#include <QTranslator>

#include <cstdio>
#include <memory>
#include <string_view>
#include <sys/prctl.h>
#include <sys/resource.h>
#include <sys/stat.h>

namespace {

using namespace milehold;

/// Records of customers never reach a core dump, and files that are made here are their owner's alone.
void keepPrivate() {
    umask(077);
#ifdef NDEBUG
    prctl(PR_SET_DUMPABLE, 0);
    const rlimit none{0, 0};
    setrlimit(RLIMIT_CORE, &none);
#endif
}

core::Date today() {
    const QDate date = QDate::currentDate();
    return core::Date(std::chrono::year(date.year()), std::chrono::month(static_cast<unsigned>(date.month())),
                      std::chrono::day(static_cast<unsigned>(date.day())));
}

/// Qt aborts where it finds no display. Help, version and pictures need none; a window says so in words.
bool hasWayToShow(int argc, char** argv) {
    if (qEnvironmentVariableIsSet("DISPLAY") || qEnvironmentVariableIsSet("WAYLAND_DISPLAY") ||
        qEnvironmentVariableIsSet("QT_QPA_PLATFORM"))
        return true;
    for (int i = 1; i < argc; ++i)
        for (const char* one : {"-h", "--help", "--help-all", "-v", "--version", "--pictures"})
            if (std::string_view(argv[i]).starts_with(one))
                return qputenv("QT_QPA_PLATFORM", "offscreen");
    return false;
}

} // namespace

int main(int argc, char** argv) {
    keepPrivate();
    if (!hasWayToShow(argc, argv)) {
        std::fputs("milehold: there is no display here for a window; milehold-cli needs none\n", stderr);
        return 1;
    }
    QApplication program(argc, argv);
    QApplication::setApplicationName(QStringLiteral("milehold"));
    QApplication::setApplicationDisplayName(QStringLiteral("Milehold"));
    QApplication::setOrganizationName(QStringLiteral("Milehold"));
    QApplication::setApplicationVersion(QStringLiteral(MILEHOLD_VERSION));
    // A machine without a locale of its own would write "0.00 $": English as in the interface's texts is
    // meant then.
    if (QLocale::system().language() == QLocale::C)
        QLocale::setDefault(QLocale(QLocale::English, QLocale::UnitedStates));
    QTranslator words;
    const QString folder = QStringLiteral(":/milehold/translations");
    // Where there is no translation, English still needs its own for "1 minute" and "2 minutes".
    if (words.load(QLocale(), QStringLiteral("milehold"), QStringLiteral("_"), folder) ||
        words.load(QStringLiteral("milehold_en"), folder))
        QApplication::installTranslator(&words);
    QApplication::setDesktopFileName(QStringLiteral("milehold"));

    QCommandLineParser options;
    options.setApplicationDescription(QApplication::translate("main", "The record book of timing repairs."));
    options.addHelpOption();
    options.addVersionOption();
    options.addPositionalArgument(
        QStringLiteral("shop"),
        QApplication::translate("main", "a folder NAME.milehold to open, or postgresql://user@host/database"),
        QStringLiteral("[shop]"));
    const QCommandLineOption pictures(
        QStringLiteral("pictures"),
        QApplication::translate("main", "render every room into this folder and end"),
        QStringLiteral("folder"));
    options.addOption(pictures);
    options.process(program);

    const bool renders = options.isSet(pictures);
    const QStringList shops = options.positionalArguments();
    if (shops.size() > 1 || (renders && shops.isEmpty())) {
        QTextStream(stderr) << "milehold: one shop was expected, a folder or a server's address\n";
        return 2;
    }

    ui::theme::apply(program, renders ? ui::Scheme::Light : app::DeskSettings().scheme());
    app::Desk desk(today);
    const app::EndSignals ending;
    QObject::connect(&ending, &app::EndSignals::asked, &program, &QApplication::closeAllWindows);
    std::unique_ptr<app::PictureBook> book;
    if (renders) {
        book = std::make_unique<app::PictureBook>(desk, options.value(pictures));
        QObject::connect(&desk, &app::Desk::opened, book.get(), &app::PictureBook::start);
        QObject::connect(&desk, &app::Desk::failedToOpen, &program, [](const core::Error& error) {
            QTextStream(stderr) << "milehold: " << app::sentenceFor(error) << "\n";
            QCoreApplication::exit(1);
        });
    }
    if (shops.isEmpty())
        desk.showStart();
    else
        desk.openShop(shops.constFirst());
    return QApplication::exec();
}
