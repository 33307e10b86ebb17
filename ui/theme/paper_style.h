// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include "ui/theme/tokens.h"

#include <QIcon>
#include <QProxyStyle>

namespace milehold::ui {

/// The look of every standard control: Fusion's behaviour, drawn flat from our tokens. No style sheets
/// anywhere.
class PaperStyle : public QProxyStyle {
    Q_OBJECT
public:
    explicit PaperStyle(const Tokens& tokens);

    const Tokens& tokens() const { return tokens_; }
    void setTokens(const Tokens& tokens) { tokens_ = tokens; }

    void polish(QWidget* widget) override;
    void unpolish(QWidget* widget) override;
    using QProxyStyle::polish;
    using QProxyStyle::unpolish;

    void drawPrimitive(PrimitiveElement element, const QStyleOption* option, QPainter* painter,
                       const QWidget* widget) const override;
    void drawControl(ControlElement element, const QStyleOption* option, QPainter* painter,
                     const QWidget* widget) const override;
    void drawComplexControl(ComplexControl control, const QStyleOptionComplex* option, QPainter* painter,
                            const QWidget* widget) const override;
    QRect subControlRect(ComplexControl control, const QStyleOptionComplex* option, SubControl sub,
                         const QWidget* widget) const override;
    QRect subElementRect(SubElement element, const QStyleOption* option,
                         const QWidget* widget) const override;
    int pixelMetric(PixelMetric metric, const QStyleOption* option, const QWidget* widget) const override;
    /// Our own line icons wherever Qt would bring its own pictures.
    QIcon standardIcon(StandardPixmap pixmap, const QStyleOption* option,
                       const QWidget* widget) const override;
    int styleHint(StyleHint hint, const QStyleOption* option, const QWidget* widget,
                  QStyleHintReturn* data) const override;
    QSize sizeFromContents(ContentsType type, const QStyleOption* option, const QSize& contents,
                           const QWidget* widget) const override;

private:
    Tokens tokens_;
};

} // namespace milehold::ui
