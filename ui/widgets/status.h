// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include "core/life/life.h"
#include "ui/theme/tokens.h"

#include <QString>
#include <QStyledItemDelegate>
#include <QVariant>

class QPainter;

namespace milehold::ui {

/// A status is a shape, a word and a colour, so that any one of them is enough.
enum class StatusShape { Disc, Ring, HalfDisc, Triangle, Cross, Square, Diamond };
enum class StatusTone { Plain, Soft, Accent, Amber, Danger };

struct Status {
    StatusShape shape = StatusShape::Ring;
    StatusTone tone = StatusTone::Plain;
    QString word;
    friend bool operator==(const Status&, const Status&) = default;
};

/// Holding / came back / never held / lost sight / ended otherwise.
Status statusOf(core::LifeState state);

void paintStatusShape(QPainter& painter, const QRectF& rect, StatusShape shape, const QColor& colour);
/// Shape and word in a line, elided where it must be.
void paintStatus(QPainter& painter, const QRectF& rect, const Status& status, const Tokens& tokens);

/// Paints what a model gives under kStatusRole; DisplayRole should give the word, for sorting, copying and
/// readers.
class StatusDelegate : public QStyledItemDelegate {
    Q_OBJECT
public:
    using QStyledItemDelegate::QStyledItemDelegate;
    void paint(QPainter* painter, const QStyleOptionViewItem& option,
               const QModelIndex& index) const override;
    QSize sizeHint(const QStyleOptionViewItem& option, const QModelIndex& index) const override;
};

/// The same as a widget.
class StatusLabel : public QWidget {
    Q_OBJECT
public:
    explicit StatusLabel(const Status& status = {}, QWidget* parent = nullptr);
    void setStatus(const Status& status);
    QSize sizeHint() const override;
    QSize minimumSizeHint() const override { return {32, 24}; }

protected:
    void paintEvent(QPaintEvent* event) override;

private:
    Status status_;
};

} // namespace milehold::ui

Q_DECLARE_METATYPE(milehold::ui::Status)
