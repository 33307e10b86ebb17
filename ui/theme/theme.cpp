// SPDX-License-Identifier: GPL-3.0-or-later
#include "ui/theme/theme.h"

#include "ui/theme/paper_style.h"

#include <QApplication>
#include <QFontDatabase>
#include <QLabel>
#include <QPalette>
#include <QToolTip>
#include <QVariant>

namespace milehold::ui::theme {

namespace {

constexpr const char* kRoleProperty = "mileholdRole";
constexpr const char* kLargeProperty = "mileholdLarge";
constexpr const char* kFieldProperty = "mileholdField";

PaperStyle* installedStyle() {
    return qApp ? qobject_cast<PaperStyle*>(QApplication::style()) : nullptr;
}

int pixelsOf(TextRole role) {
    switch (role) {
    case TextRole::Small:
        return kSmall;
    case TextRole::Lead:
        return kLead;
    case TextRole::Title:
        return kTitle;
    case TextRole::Big:
        return kBig;
    case TextRole::Hero:
        return kHero;
    case TextRole::Body:
    case TextRole::Strong:
        break;
    }
    return kBody;
}

QFont::Weight weightOf(TextRole role) {
    switch (role) {
    case TextRole::Strong:
    case TextRole::Lead:
    case TextRole::Title:
        return QFont::DemiBold;
    case TextRole::Big:
    case TextRole::Hero:
        return QFont::Medium;
    case TextRole::Body:
    case TextRole::Small:
        break;
    }
    return QFont::Normal;
}

} // namespace

void apply(QApplication& app, Scheme scheme) {
    const Tokens tokens = tokensFor(scheme);
    if (PaperStyle* style = installedStyle()) {
        style->setTokens(tokens);
    } else {
        app.setStyle(new PaperStyle(tokens));
    }
    app.setFont(font(TextRole::Body));
    const QPalette palette = paletteFor(tokens);
    app.setPalette(palette);
    QToolTip::setPalette(palette);
    QToolTip::setFont(font(TextRole::Body));
    // Widgets that painted from tokens alone, not from the palette, must hear of it too.
    for (QWidget* widget : QApplication::allWidgets())
        widget->update();
}

Scheme scheme() {
    const PaperStyle* style = installedStyle();
    return style ? style->tokens().scheme : Scheme::Light;
}

const Tokens& tokensOf(const QWidget* widget) {
    static const Tokens fallback = tokensFor(Scheme::Light);
    const auto* own = widget ? qobject_cast<const PaperStyle*>(widget->style()) : nullptr;
    if (!own)
        own = installedStyle();
    return own ? own->tokens() : fallback;
}

QFont font(TextRole role) {
    QFont font(QStringLiteral("Inter"));
    font.setStyleHint(QFont::SansSerif);
    font.setPixelSize(pixelsOf(role));
    font.setWeight(weightOf(role));
    return font;
}

QFont printFont(TextRole role) {
    QFont result = font(role);
    result.setStyleStrategy(QFont::PreferNoShaping);
    return result;
}

QPalette paletteFor(const Tokens& t) {
    QPalette p;
    const auto set = [&p](QPalette::ColorRole role, const QColor& normal, const QColor& disabled) {
        p.setColor(QPalette::Active, role, normal);
        p.setColor(QPalette::Inactive, role, normal);
        p.setColor(QPalette::Disabled, role, disabled);
    };
    set(QPalette::Window, t.paper, t.paper);
    set(QPalette::WindowText, t.ink, t.inkFaint);
    set(QPalette::Base, t.surface, t.surface);
    set(QPalette::AlternateBase, mixed(t.surface, t.paper, 0.6), t.surface);
    set(QPalette::Text, t.ink, t.inkFaint);
    set(QPalette::PlaceholderText, t.inkSoft, t.inkFaint);
    set(QPalette::Button, t.surface, t.paper);
    set(QPalette::ButtonText, t.ink, t.inkFaint);
    set(QPalette::BrightText, t.dangerText, t.inkFaint);
    set(QPalette::Highlight, t.accentSoft, t.sunken);
    set(QPalette::HighlightedText, t.ink, t.inkFaint);
    set(QPalette::Link, t.accentText, t.inkFaint);
    set(QPalette::LinkVisited, t.accentText, t.inkFaint);
    set(QPalette::ToolTipBase, t.raised, t.raised);
    set(QPalette::ToolTipText, t.ink, t.ink);
    set(QPalette::Light, t.raised, t.raised);
    set(QPalette::Midlight, t.surface, t.surface);
    set(QPalette::Mid, t.hairline, t.hairline);
    set(QPalette::Dark, t.outline, t.hairline);
    set(QPalette::Shadow, t.outline, t.hairline);
    return p;
}

void setRole(QPushButton* button, ButtonRole role) {
    button->setProperty(kRoleProperty, static_cast<int>(role));
    button->update();
}

ButtonRole roleOf(const QWidget* button) {
    return button ? static_cast<ButtonRole>(button->property(kRoleProperty).toInt()) : ButtonRole::Ordinary;
}

void setLarge(QWidget* control) {
    control->setProperty(kLargeProperty, true);
    control->setMinimumHeight(kLargeControlHeight);
    control->updateGeometry();
}

void setFieldState(QWidget* field, FieldState state) {
    field->setProperty(kFieldProperty, static_cast<int>(state));
    field->update();
}

FieldState fieldStateOf(const QWidget* field) {
    return field ? static_cast<FieldState>(field->property(kFieldProperty).toInt()) : FieldState::Plain;
}

void setText(QWidget* label, TextRole role, bool soft) {
    label->setFont(font(role));
    label->setForegroundRole(soft ? QPalette::PlaceholderText : QPalette::WindowText);
}

} // namespace milehold::ui::theme
