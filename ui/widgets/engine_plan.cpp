// SPDX-License-Identifier: GPL-3.0-or-later
#include "ui/widgets/engine_plan.h"

#include "ui/theme/paint.h"
#include "ui/theme/theme.h"
#include "ui/widgets/engine_tile.h"

#include <QKeyEvent>

#include <algorithm>

namespace milehold::ui {

namespace {

constexpr int kTileWidth = 116;
constexpr int kTileHeight = 88;
constexpr int kBankGap = 24;
constexpr int kHead = 22;     // "Bank 1"
constexpr int kBlock = 72;    // cams and cylinders
constexpr int kMostTiles = 6; // two banks, three roles
constexpr int kCylinders = 3; // drawn in a bank; the plan is a sign, not a parts drawing

QString camWord(core::CamRole cam) {
    switch (cam) {
    case core::CamRole::Exhaust:
        return EnginePlan::tr("exhaust");
    case core::CamRole::Single:
        return EnginePlan::tr("cam");
    case core::CamRole::Intake:
        break;
    }
    return EnginePlan::tr("intake");
}

QString capitalised(QString text) {
    if (!text.isEmpty())
        text[0] = text[0].toUpper();
    return text;
}

/// From left to right as drawn: the second bank lies left, its exhaust outermost, as in a V seen from the
/// front.
std::vector<core::Position> inDrawnOrder(int banks, std::vector<core::Position> positions) {
    const auto key = [banks](const core::Position& p) {
        const bool left = banks > 1 && p.bank == 2;
        const int cam = p.cam == core::CamRole::Exhaust ? 0 : p.cam == core::CamRole::Single ? 1 : 2;
        return std::pair(left ? 0 : 1, left ? cam : 2 - cam);
    };
    std::sort(positions.begin(), positions.end(),
              [&key](const auto& a, const auto& b) { return key(a) < key(b); });
    return positions;
}

} // namespace

QString positionName(core::Position position, int banks) {
    const QString cam = camWord(position.cam);
    if (banks < 2)
        return capitalised(cam);
    return EnginePlan::tr("Bank %1 %2").arg(position.bank).arg(cam);
}

QString positionShortName(core::Position position, int banks) {
    const QString cam = camWord(position.cam);
    if (banks < 2)
        return capitalised(cam);
    return EnginePlan::tr("B%1 %2").arg(position.bank).arg(cam);
}

EnginePlan::EnginePlan(QWidget* parent) : QWidget(parent) {
    setSizePolicy(QSizePolicy::Preferred, QSizePolicy::Fixed);
    setAccessibleName(tr("Engine plan"));
    setAccessibleDescription(tr("Arrows move from phaser to phaser, Space chooses one"));
    // Made once, so that they keep the plan's place in the order of tabs whatever engine comes later.
    for (int i = 0; i < kMostTiles; ++i) {
        auto* tile = new EngineTile(this);
        tile->hide();
        connect(tile, &QAbstractButton::clicked, this, &EnginePlan::chosenChanged);
        pool_.push_back(tile);
    }
}

void EnginePlan::setEngine(int banks, const std::vector<core::Position>& positions) {
    const auto kept = chosen();
    banks_ = std::clamp(banks, 1, 2);
    positions_ = inDrawnOrder(banks_, positions);
    if (positions_.size() > pool_.size())
        positions_.resize(pool_.size());
    tiles_.assign(pool_.begin(), pool_.begin() + static_cast<std::ptrdiff_t>(positions_.size()));
    for (EngineTile* tile : pool_)
        tile->setChecked(false);
    for (std::size_t i = 0; i < pool_.size(); ++i) {
        if (i >= positions_.size()) {
            pool_[i]->hide();
            continue;
        }
        pool_[i]->setPlace(positions_[i], static_cast<int>(i) + 1, banks_);
        pool_[i]->setChecked(kept.contains(positions_[i]));
        pool_[i]->show();
    }
    setStates(PhaserStates(states_));
    setReadOnly(readOnly_);
    setFocusProxy(tiles_.empty() ? nullptr : tiles_.front());
    layTiles();
    updateGeometry();
    update();
}

void EnginePlan::setStates(const PhaserStates& states) {
    states_ = states;
    for (EngineTile* tile : tiles_) {
        const auto state = states_.find(tile->position());
        tile->setState(state == states_.end() ? PhaserState{} : state->second);
    }
}

void EnginePlan::setChosen(const std::set<core::Position>& chosen) {
    for (EngineTile* tile : tiles_)
        tile->setChecked(chosen.contains(tile->position()));
}

std::set<core::Position> EnginePlan::chosen() const {
    std::set<core::Position> result;
    for (const EngineTile* tile : tiles_) {
        if (tile->isChecked())
            result.insert(tile->position());
    }
    return result;
}

void EnginePlan::setReadOnly(bool readOnly) {
    readOnly_ = readOnly;
    for (EngineTile* tile : tiles_) {
        tile->setReadOnly(readOnly);
        tile->setFocusPolicy(readOnly                 ? Qt::NoFocus
                             : tile == tiles_.front() ? Qt::StrongFocus
                                                      : Qt::ClickFocus);
    }
}

QSize EnginePlan::sizeHint() const {
    const int tiles = std::max<int>(2, static_cast<int>(tiles_.size()));
    return {tiles * kTileWidth + (banks_ - 1) * kBankGap + 2, kHead + kBlock + kTileHeight};
}

QSize EnginePlan::minimumSizeHint() const {
    const int tiles = std::max<int>(2, static_cast<int>(tiles_.size()));
    return {tiles * 84 + (banks_ - 1) * kBankGap, kHead + kBlock + kTileHeight};
}

void EnginePlan::layTiles() {
    if (tiles_.empty())
        return;
    const int gaps = banks_ > 1 ? kBankGap : 0;
    const int wide = std::min(kTileWidth + 24, (width() - gaps) / static_cast<int>(tiles_.size()));
    int x = (width() - wide * static_cast<int>(tiles_.size()) - gaps) / 2;
    int bank = tiles_.front()->position().bank;
    for (EngineTile* tile : tiles_) {
        if (tile->position().bank != bank) {
            x += gaps;
            bank = tile->position().bank;
        }
        tile->setGeometry(x, kHead + kBlock, wide, height() - kHead - kBlock);
        x += wide;
    }
}

void EnginePlan::resizeEvent(QResizeEvent*) {
    layTiles();
}

void EnginePlan::paintEvent(QPaintEvent*) {
    QPainter painter(this);
    const paint::Scope scope(painter);
    const Tokens& t = theme::tokensOf(this);
    if (tiles_.empty()) {
        painter.setPen(t.inkSoft);
        painter.drawText(rect(), Qt::AlignCenter | Qt::TextWordWrap,
                         tr("This engine family has no phaser positions yet"));
        return;
    }
    for (int bank = 1; bank <= banks_; ++bank) {
        QRectF span;
        std::vector<double> cams;
        for (const EngineTile* tile : tiles_) {
            if (tile->position().bank != bank)
                continue;
            span = span.united(QRectF(tile->geometry()));
            cams.push_back(QRectF(tile->geometry()).center().x());
        }
        if (span.isNull())
            continue;
        const QRectF head(span.left() + 3, kHead, span.width() - 6, kBlock - 6);
        // The name of the bank, over its head.
        painter.setFont(theme::font(TextRole::Small));
        painter.setPen(t.inkSoft);
        const QString name = banks_ > 1 ? tr("Bank %1").arg(bank) : tr("Inline");
        painter.drawText(QRectF(head.left(), 0, head.width(), kHead - 2), Qt::AlignCenter, name);
        paint::box(painter, head, mixed(t.surface, t.ink, 0.03), t.hairline, kRadius);
        // Cylinders between the cams.
        const double middle = head.center().x();
        painter.setBrush(Qt::NoBrush);
        painter.setPen(QPen(mixed(t.surface, t.ink, 0.28), 1.2));
        const double step = head.height() / kCylinders;
        for (int i = 0; i < kCylinders; ++i) {
            const double y = head.top() + step * (i + 0.5);
            painter.drawEllipse(QPointF(middle, y), step * 0.40, step * 0.40);
        }
        // The chain from cam to cam.
        if (cams.size() > 1) {
            painter.setPen(QPen(t.outline, 3, Qt::DotLine, Qt::RoundCap));
            painter.drawLine(QPointF(cams.front(), head.bottom() + 5),
                             QPointF(cams.back(), head.bottom() + 5));
        }
        // Cams: a shaft with its lobes, down to the phaser on its end.
        for (const double x : cams) {
            const double shaft = cams.size() == 1 ? x + 22 : x;
            painter.setPen(QPen(t.outline, 2));
            painter.drawLine(QPointF(shaft, head.top() + 6), QPointF(shaft, head.bottom() + 8));
            painter.setPen(Qt::NoPen);
            painter.setBrush(t.outline);
            for (int i = 0; i < kCylinders; ++i) {
                const double y = head.top() + step * (i + 0.5);
                painter.drawRoundedRect(QRectF(shaft - 5, y - 3, 10, 6), 3, 3);
            }
            painter.setBrush(Qt::NoBrush);
        }
    }
}

void EnginePlan::moveFocus(int by) {
    if (tiles_.empty())
        return;
    int at = 0;
    for (std::size_t i = 0; i < tiles_.size(); ++i) {
        if (tiles_[i]->hasFocus())
            at = static_cast<int>(i);
    }
    at = std::clamp(at + by, 0, static_cast<int>(tiles_.size()) - 1);
    tiles_[static_cast<std::size_t>(at)]->setFocus(Qt::OtherFocusReason);
}

void EnginePlan::switchAll(bool on) {
    bool changed = false;
    for (EngineTile* tile : tiles_) {
        changed = changed || tile->isChecked() != on;
        tile->setChecked(on);
    }
    if (changed)
        emit chosenChanged();
}

void EnginePlan::keyPressEvent(QKeyEvent* event) {
    const bool plain = !(event->modifiers() & (Qt::ControlModifier | Qt::AltModifier));
    if (readOnly_)
        return QWidget::keyPressEvent(event);
    switch (event->key()) {
    case Qt::Key_Left:
        return moveFocus(-1);
    case Qt::Key_Right:
        return moveFocus(1);
    case Qt::Key_Home:
        return moveFocus(-99);
    case Qt::Key_End:
        return moveFocus(99);
    case Qt::Key_Space:
        for (EngineTile* tile : tiles_) {
            if (tile->hasFocus())
                tile->click();
        }
        return;
    case Qt::Key_Escape:
        if (chosen().empty())
            break;
        return switchAll(false);
    case Qt::Key_A:
        if (!plain)
            return switchAll(true);
        break;
    default:
        if (plain && event->key() >= Qt::Key_1 && event->key() <= Qt::Key_9) {
            const auto index = static_cast<std::size_t>(event->key() - Qt::Key_1);
            if (index < tiles_.size()) {
                tiles_[index]->setFocus(Qt::OtherFocusReason);
                tiles_[index]->click();
            }
            return;
        }
        break;
    }
    // Not ours: the form, its default button or the window may want it.
    event->ignore();
}

} // namespace milehold::ui
