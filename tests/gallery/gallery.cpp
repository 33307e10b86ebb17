// SPDX-License-Identifier: GPL-3.0-or-later
#include "tests/gallery/pages.h"
#include "ui/charts/curve_chart.h"
#include "ui/theme/theme.h"

#include <QApplication>
#include <QDir>
#include <QEventLoop>
#include <QFontDatabase>
#include <QPageSize>
#include <QPainter>
#include <QPdfWriter>
#include <QTextStream>
#include <QTimer>
#include <QWidget>

#include <functional>
#include <memory>

using namespace milehold;

namespace {

struct Page {
    QString name;
    QSize size;
    std::function<QWidget*()> make;
};

void paintPdf(const QString& path) {
    QPdfWriter writer(path);
    writer.setResolution(1200);
    writer.setPageSize(QPageSize(QPageSize::A4));
    QPainter painter(&writer);
    ui::CurveChart chart;
    chart.setData(gallery::inventedCurves(4));
    // Drawn in pixels of 1/96 inch, scaled to the page.
    const double scale = writer.logicalDpiX() / 96.0;
    painter.scale(scale, scale);
    chart.paintVector(painter, QRectF(0, 0, 640, 420));
}

} // namespace

int main(int argc, char** argv) {
    if (!qEnvironmentVariableIsSet("QT_QPA_PLATFORM"))
        qputenv("QT_QPA_PLATFORM", "offscreen");
    QApplication app(argc, argv);
    QTextStream err(stderr);
    if (argc < 2) {
        err << "usage: milehold_gallery FOLDER [PAGE...]\n";
        return 2;
    }
    QLocale::setDefault(QLocale(QLocale::English, QLocale::UnitedStates));
    const QDir folder(QString::fromLocal8Bit(argv[1]));
    if (!folder.mkpath(QStringLiteral("."))) {
        err << "cannot make the folder\n";
        return 1;
    }
    QStringList wanted;
    for (int i = 2; i < argc; ++i)
        wanted << QString::fromLocal8Bit(argv[i]);
    const QList<Page> pages = {
        {QStringLiteral("controls"), {1280, 800}, gallery::controlsPage},
        {QStringLiteral("form"), {1280, 800}, gallery::formPage},
        {QStringLiteral("engine"), {1280, 800}, gallery::enginePage},
        {QStringLiteral("table"), {1280, 800}, gallery::tablePage},
        {QStringLiteral("empty"), {1280, 800}, gallery::emptyPage},
        {QStringLiteral("icons"), {1000, 640}, gallery::iconsPage},
        {QStringLiteral("curve1"), {1176, 640}, [] { return gallery::curvePage(1, true); }},
        {QStringLiteral("curve3"), {1176, 640}, [] { return gallery::curvePage(3, true); }},
        {QStringLiteral("curve8"), {1176, 720}, [] { return gallery::curvePage(8, true); }},
        {QStringLiteral("curve-narrow"), {420, 420}, [] { return gallery::curvePage(3, false); }},
        {QStringLiteral("charts"), {1280, 900}, gallery::chartsPage},
        {QStringLiteral("window"), {1280, 800}, gallery::windowPage},
        {QStringLiteral("window-large"), {1920, 1080}, gallery::windowPage},
        {QStringLiteral("search"), {1280, 800}, gallery::searchPage},
        {QStringLiteral("menu"), {}, gallery::menuPage},
        {QStringLiteral("calendar"), {}, gallery::calendarPage},
        {QStringLiteral("help"), {920, 640}, gallery::helpPage},
        {QStringLiteral("keys"), {}, gallery::keysPage},
        {QStringLiteral("question"), {}, gallery::questionPage},
        {QStringLiteral("lists"), {900, 480}, gallery::listsPage},
    };
    for (const auto scheme : {ui::Scheme::Light, ui::Scheme::Dark}) {
        ui::theme::apply(app, scheme);
        for (const Page& page : pages) {
            if (!wanted.isEmpty() && !wanted.contains(page.name))
                continue;
            const std::unique_ptr<QWidget> widget(page.make());
            widget->resize(page.size.isValid() ? page.size : widget->sizeHint());
            widget->setAttribute(Qt::WA_DontShowOnScreen, false);
            widget->show();
            widget->activateWindow();
            // Long enough for activation and for what a page does after it.
            QEventLoop rest;
            QTimer::singleShot(80, &rest, &QEventLoop::quit);
            rest.exec();
            if (QWidget* focus = widget->findChild<QWidget*>(QStringLiteral("focusHere"))) {
                focus->setFocus(Qt::TabFocusReason);
                QApplication::processEvents();
            }
            const QPixmap picture = widget->grab();
            const QString name = QStringLiteral("%1-%2-%3x.png")
                                     .arg(page.name, scheme == ui::Scheme::Light ? QStringLiteral("light")
                                                                                 : QStringLiteral("dark"))
                                     .arg(picture.devicePixelRatio());
            if (!picture.save(folder.filePath(name))) {
                err << "cannot write " << name << "\n";
                return 1;
            }
        }
    }
    if (wanted.isEmpty() || wanted.contains(QStringLiteral("pdf")))
        paintPdf(folder.filePath(QStringLiteral("curve.pdf")));
    return 0;
}
