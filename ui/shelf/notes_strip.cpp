// SPDX-License-Identifier: GPL-3.0-or-later
#include "ui/shelf/notes_strip.h"

#include "ui/theme/icons.h"
#include "ui/theme/paint.h"
#include "ui/theme/theme.h"
#include "ui/widgets/section_title.h"
#include "ui/widgets/text.h"

#include <QAbstractButton>
#include <QPushButton>
#include <QVBoxLayout>

#include <cmath>

namespace milehold::ui {
namespace {

/// A note as it would be stuck on the shelf: a bar at its side, the words, where they come from.
class NoteButton : public QAbstractButton {
public:
    NoteButton(const QString& words, const QString& from, bool stale, QWidget* parent)
        : QAbstractButton(parent), from_(from), stale_(stale) {
        setText(words);
        setAccessibleName(words + u' ' + from);
        setCursor(Qt::PointingHandCursor);
        setFocusPolicy(Qt::StrongFocus);
        QSizePolicy policy(QSizePolicy::Expanding, QSizePolicy::Preferred);
        policy.setHeightForWidth(true);
        setSizePolicy(policy);
    }

    QSize sizeHint() const override { return {320, heightForWidth(320)}; }
    int heightForWidth(int width) const override {
        const QRectF words =
            QFontMetricsF(theme::font(TextRole::Body))
                .boundingRect(QRectF(0, 0, width - kSide - kGrid, 10'000), Qt::TextWordWrap, text());
        const double small = QFontMetricsF(theme::font(TextRole::Small)).lineSpacing();
        return static_cast<int>(std::ceil(words.height() + kHalf + small + 2 * kGrid));
    }

protected:
    void paintEvent(QPaintEvent*) override {
        QPainter painter(this);
        const paint::Scope scope(painter);
        const Tokens& t = theme::tokensOf(this);
        if (underMouse())
            paint::box(painter, QRectF(rect()), mixed(t.surface, t.ink, 0.04), QColor());
        painter.fillRect(QRectF(2, kGrid, 3, height() - 2 * kGrid), stale_ ? t.amberText : t.outline);
        const QRectF inner = QRectF(rect()).adjusted(kSide, kGrid, -kGrid, -kGrid);
        painter.setFont(theme::font(TextRole::Body));
        painter.setPen(t.ink);
        painter.drawText(inner, Qt::TextWordWrap | Qt::AlignTop | Qt::AlignLeft, text());
        painter.setFont(theme::font(TextRole::Small));
        painter.setPen(stale_ ? t.amberText : t.inkSoft);
        painter.drawText(inner, Qt::AlignBottom | Qt::AlignLeft,
                         QFontMetricsF(painter.font()).elidedText(from_, Qt::ElideRight, inner.width()));
        if (hasFocus())
            paint::focusRing(painter, QRectF(rect()), t);
    }

private:
    static constexpr int kSide = 16;
    QString from_;
    bool stale_;
};

} // namespace

NotesStrip::NotesStrip(QWidget* parent) : QWidget(parent), list_(new QVBoxLayout) {
    auto* stack = new QVBoxLayout(this);
    stack->setContentsMargins(0, 0, 0, 0);
    stack->setSpacing(kGrid);
    auto* title = new SectionTitle(tr("Notes"), this);
    auto* add = new QPushButton(icon(QStringLiteral("add")), tr("Write a note"), this);
    theme::setRole(add, ButtonRole::Quiet);
    title->addControl(add);
    stack->addWidget(title);
    list_->setSpacing(kHalf);
    stack->addLayout(list_);
    connect(add, &QPushButton::clicked, this, &NotesStrip::addWanted);
}

void NotesStrip::setNotes(const std::vector<core::ShelfNote>& notes, core::Date today) {
    while (QLayoutItem* item = list_->takeAt(0)) {
        if (item->widget() != nullptr) {
            item->widget()->hide();
            item->widget()->deleteLater();
        }
        delete item;
    }
    for (const core::ShelfNote& note : notes) {
        const bool stale = core::isStale(note.freshness, today);
        QStringList from;
        if (!note.source.empty())
            from << toText(note.source);
        if (note.freshness.checkedOn)
            from << tr("checked on %1").arg(dateText(*note.freshness.checkedOn));
        if (stale)
            from << tr("wants checking");
        auto* button = new NoteButton(toText(note.text), from.join(QStringLiteral(" · ")), stale, this);
        connect(button, &QAbstractButton::clicked, this, [this, id = note.id.uuid] { emit noteChosen(id); });
        list_->addWidget(button);
    }
}

} // namespace milehold::ui
