// SPDX-License-Identifier: GPL-3.0-or-later
#include "ui/shell/shortcuts_sheet.h"

#include "ui/theme/paint.h"
#include "ui/theme/theme.h"
#include "ui/widgets/section_title.h"

#include <QGridLayout>
#include <QLabel>
#include <QScrollArea>
#include <QVBoxLayout>

#include <algorithm>

namespace milehold::ui {

namespace {

constexpr int kHighest = 640; // fits with its frame on a screen of 800

/// A key as it stands on the keyboard.
class KeyCap : public QWidget {
public:
    KeyCap(const QString& keys, QWidget* parent) : QWidget(parent), keys_(keys) {
        setFixedSize(fontMetrics().horizontalAdvance(keys) + 2 * kGrid, 26);
        setAccessibleName(keys);
    }

protected:
    void paintEvent(QPaintEvent*) override {
        QPainter painter(this);
        const Tokens& t = theme::tokensOf(this);
        paint::box(painter, QRectF(rect()), t.surface, t.outline, 4);
        painter.setPen(t.ink);
        painter.drawText(rect(), Qt::AlignCenter, keys_);
    }

private:
    QString keys_;
};

} // namespace

ShortcutsSheet::ShortcutsSheet(const QList<Group>& groups, QWidget* parent) : QDialog(parent) {
    setWindowTitle(tr("Keys"));
    // More keys than a low screen has room for: they scroll, by the arrow and page keys too.
    auto* scroll = new QScrollArea(this);
    auto* sheet = new QWidget(scroll);
    auto* stack = new QVBoxLayout(sheet);
    stack->setContentsMargins(kMargin, kMargin, kMargin, kMargin);
    stack->setSpacing(kGap);
    for (const Group& group : groups) {
        stack->addWidget(new SectionTitle(group.title, sheet));
        auto* grid = new QGridLayout;
        grid->setHorizontalSpacing(kGap);
        grid->setVerticalSpacing(6);
        grid->setColumnMinimumWidth(0, 168);
        grid->setColumnStretch(1, 1);
        int line = 0;
        for (const Key& key : group.keys) {
            grid->addWidget(new KeyCap(key.keys, sheet), line, 0, Qt::AlignLeft);
            grid->addWidget(new QLabel(key.does, sheet), line, 1);
            ++line;
        }
        stack->addLayout(grid);
    }
    stack->addStretch(1);
    scroll->setWidget(sheet);
    scroll->setWidgetResizable(true);
    scroll->setFrameShape(QFrame::NoFrame);
    scroll->setAccessibleName(tr("Keys"));
    auto* whole = new QVBoxLayout(this);
    whole->setContentsMargins(0, 0, 0, 0);
    whole->addWidget(scroll);
    setMinimumWidth(520);
    scroll->setHorizontalScrollBarPolicy(Qt::ScrollBarAlwaysOff);
    const QSize wanted = sheet->sizeHint();
    resize(std::max(520, wanted.width()) + kMargin,
           std::min(wanted.height(), kHighest)); // and its scroll bar
    scroll->setFocus();
}

} // namespace milehold::ui
