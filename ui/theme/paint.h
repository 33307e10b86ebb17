// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include "ui/theme/theme.h"
#include "ui/theme/tokens.h"

#include <QPainter>
#include <QRectF>
#include <QStyle>

class QStyleOption;
class QStyleOptionButton;
class QStyleOptionComboBox;
class QStyleOptionComplex;
class QStyleOptionGroupBox;
class QStyleOptionHeader;
class QStyleOptionMenuItem;
class QStyleOptionProgressBar;
class QStyleOptionSlider;
class QStyleOptionSpinBox;
class QStyleOptionTab;
class QStyleOptionToolButton;
class QStyleOptionViewItem;

/// The painting of PaperStyle, one function a control; and the few strokes that our own widgets share with
/// it.
namespace milehold::ui::paint {

/// Restores the painter when it goes out of scope; antialiasing on.
class Scope {
public:
    explicit Scope(QPainter& painter) : painter_(painter) {
        painter_.save();
        painter_.setRenderHint(QPainter::Antialiasing);
    }
    ~Scope() { painter_.restore(); }
    Scope(const Scope&) = delete;
    Scope& operator=(const Scope&) = delete;

private:
    QPainter& painter_;
};

/// A filled box with an outline whose pixels lie inside `rect`; an invalid colour leaves out fill or line.
void box(QPainter& painter, const QRectF& rect, const QColor& fill, const QColor& line,
         double radius = kRadius, double width = 1);
/// The ring around what has the keyboard, inside `rect`.
void focusRing(QPainter& painter, const QRectF& rect, const Tokens& tokens, double radius = kRadius);
enum class Way { Up, Down, Left, Right };
void chevron(QPainter& painter, const QRectF& rect, Way way, const QColor& colour);
void tick(QPainter& painter, const QRectF& rect, const QColor& colour, double width = 2);
void hairline(QPainter& painter, const QPointF& from, const QPointF& to, const QColor& colour);

// Buttons and marks
void buttonPanel(const Tokens& tokens, const QStyleOptionButton& option, QPainter& painter,
                 const QWidget* widget);
void buttonLabel(const Tokens& tokens, const QStyleOptionButton& option, QPainter& painter,
                 const QWidget* widget);
void toolButton(const Tokens& tokens, const QStyleOptionToolButton& option, QPainter& painter,
                const QWidget* widget);
void toolPanel(const Tokens& tokens, const QStyleOption& option, QPainter& painter);
void checkMark(const Tokens& tokens, const QStyleOption& option, QPainter& painter);
void radioMark(const Tokens& tokens, const QStyleOption& option, QPainter& painter);

// Fields
void field(const Tokens& tokens, const QStyleOption& option, QPainter& painter, const QWidget* widget);
void comboBox(const Tokens& tokens, const QStyleOptionComboBox& option, QPainter& painter,
              const QWidget* widget);
void spinBox(const Tokens& tokens, const QStyleOptionSpinBox& option, QPainter& painter,
             const QWidget* widget);

// Lists and tables
void row(const Tokens& tokens, const QStyleOptionViewItem& option, QPainter& painter, const QWidget* widget);
void item(const Tokens& tokens, const QStyleOptionViewItem& option, QPainter& painter, const QWidget* widget);
void headerSection(const Tokens& tokens, const QStyleOptionHeader& option, QPainter& painter);
void headerLabel(const Tokens& tokens, const QStyleOptionHeader& option, QPainter& painter,
                 const QWidget* widget);

// Bars and panes
void scrollBar(const Tokens& tokens, const QStyleOptionSlider& option, QPainter& painter,
               const QWidget* widget);
void progress(const Tokens& tokens, const QStyleOptionProgressBar& option, QPainter& painter);
void tabShape(const Tokens& tokens, const QStyleOptionTab& option, QPainter& painter);
void tabLabel(const Tokens& tokens, const QStyleOptionTab& option, QPainter& painter);
void groupBox(const Tokens& tokens, const QStyleOptionGroupBox& option, QPainter& painter,
              const QWidget* widget);
void splitter(const Tokens& tokens, const QStyleOption& option, QPainter& painter);
void menuItem(const Tokens& tokens, const QStyleOptionMenuItem& option, QPainter& painter);
void menuBarItem(const Tokens& tokens, const QStyleOptionMenuItem& option, QPainter& painter);
void slider(const Tokens& tokens, const QStyleOptionSlider& option, QPainter& painter, const QWidget* widget);

} // namespace milehold::ui::paint
