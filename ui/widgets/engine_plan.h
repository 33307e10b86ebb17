// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include "core/shop/engine.h"
#include "ui/theme/tokens.h"

#include <QStyledItemDelegate>
#include <QWidget>

#include <map>
#include <set>
#include <vector>

namespace milehold::ui {

/// What happened to one phaser.
enum class PhaserWork { Untouched, Replaced, Reused };

struct PhaserState {
    PhaserWork work = PhaserWork::Untouched;
    bool noisy = false;
    QString caption; ///< a part number, a lot; small, under the state's word
    friend bool operator==(const PhaserState&, const PhaserState&) = default;
};

using PhaserStates = std::map<core::Position, PhaserState>;

class EngineTile;

/// The engine seen from above with its timing end towards you: banks, cams, cylinders, and one tile per
/// phaser.
///
/// Tiles are chosen by a tap or by keys: arrows move, Space switches one, Ctrl+A takes all, Escape none, 1 to
/// 9 switch the tile of that number. It is one tab stop; each tile is a check button of its own to assistive
/// programs.
class EnginePlan : public QWidget {
    Q_OBJECT
public:
    explicit EnginePlan(QWidget* parent = nullptr);

    /// Banks and phaser positions of a family; drops what was chosen on positions that it does not have.
    void setEngine(int banks, const std::vector<core::Position>& positions);
    const std::vector<core::Position>& positions() const { return positions_; }

    void setStates(const PhaserStates& states);
    const PhaserStates& states() const { return states_; }

    void setChosen(const std::set<core::Position>& chosen);
    std::set<core::Position> chosen() const;

    /// Shows the states only; nothing can be chosen.
    void setReadOnly(bool readOnly);

    QSize sizeHint() const override;
    QSize minimumSizeHint() const override;

signals:
    void chosenChanged(); ///< by the user

protected:
    void paintEvent(QPaintEvent* event) override;
    void resizeEvent(QResizeEvent* event) override;
    void keyPressEvent(QKeyEvent* event) override;

private:
    friend class EngineTile;
    void layTiles();
    void moveFocus(int by);
    void switchAll(bool on);
    EngineTile* tile(core::Position position) const;

    int banks_ = 1;
    bool readOnly_ = false;
    std::vector<core::Position> positions_;
    PhaserStates states_;
    std::vector<EngineTile*> pool_;
    std::vector<EngineTile*> tiles_; ///< those of the pool that are in use
};

/// `Bank 1 intake`, `Intake` on an inline engine.
QString positionName(core::Position position, int banks);
/// `B1 intake`, for tight places.
QString positionShortName(core::Position position, int banks);

/// The plan in small, for lists and printed pages.
struct EngineBadge {
    int banks = 1;
    std::vector<core::Position> positions;
    PhaserStates states;
    friend bool operator==(const EngineBadge&, const EngineBadge&) = default;
};

/// Width that a badge needs at a height.
double engineBadgeWidth(const EngineBadge& badge, double height);
/// Filled: replaced; barred: reused; open: untouched; a wave over it: noisy.
void paintEngineBadge(QPainter& painter, const QRectF& rect, const EngineBadge& badge, const Tokens& tokens);
/// In words: "Replaced: bank 1 intake; noisy: bank 2 intake".
QString describe(const EngineBadge& badge);

/// Paints kBadgeRole; DisplayRole should give describe().
class EngineBadgeDelegate : public QStyledItemDelegate {
    Q_OBJECT
public:
    using QStyledItemDelegate::QStyledItemDelegate;
    void paint(QPainter* painter, const QStyleOptionViewItem& option,
               const QModelIndex& index) const override;
    QSize sizeHint(const QStyleOptionViewItem& option, const QModelIndex& index) const override;
};

} // namespace milehold::ui

Q_DECLARE_METATYPE(milehold::ui::EngineBadge)
