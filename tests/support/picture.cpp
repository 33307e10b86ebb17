// SPDX-License-Identifier: GPL-3.0-or-later
#include "tests/support/picture.h"

#include <QApplication>
#include <QDir>
#include <QImage>
#include <QPainter>

namespace milehold::tests {

bool keepPicture(QWidget& widget, const QString& name, QSize size, double scale) {
    widget.resize(size);
    widget.show();
    QApplication::sendPostedEvents();
    QApplication::processEvents();
    QImage image(size * scale, QImage::Format_ARGB32_Premultiplied);
    image.setDevicePixelRatio(scale);
    image.fill(widget.palette().color(QPalette::Window));
    QPainter painter(&image);
    widget.render(&painter);
    painter.end();
    const QDir folder(QStringLiteral(MILEHOLD_BINARY_DIR));
    if (!folder.mkpath(QStringLiteral("pictures")))
        return false;
    return image.save(folder.filePath(QStringLiteral("pictures/%1.png").arg(name)));
}

bool keepPictures(QWidget& widget, const QString& name, QSize size) {
    auto& app = *static_cast<QApplication*>(QApplication::instance());
    const bool light = keepPicture(widget, name + QStringLiteral("-light"), size);
    const bool sharp = keepPicture(widget, name + QStringLiteral("-2x"), size, 2);
    ui::theme::apply(app, ui::Scheme::Dark);
    const bool dark = keepPicture(widget, name + QStringLiteral("-dark"), size);
    ui::theme::apply(app, ui::Scheme::Light);
    return light && sharp && dark;
}

} // namespace milehold::tests
