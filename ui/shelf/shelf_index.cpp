// SPDX-License-Identifier: GPL-3.0-or-later
#include "ui/shelf/shelf_index.h"

#include "ui/shelf/shelf_rows.h"
#include "ui/theme/icons.h"
#include "ui/theme/paint.h"
#include "ui/theme/theme.h"

#include <QStyledItemDelegate>

namespace milehold::ui {
namespace {

constexpr int kCountRole = Qt::UserRole + 1;
constexpr int kRow = 40;

class DrawerDelegate : public QStyledItemDelegate {
public:
    using QStyledItemDelegate::QStyledItemDelegate;

    QSize sizeHint(const QStyleOptionViewItem&, const QModelIndex&) const override { return {160, kRow}; }

    void paint(QPainter* painter, const QStyleOptionViewItem& option,
               const QModelIndex& index) const override {
        const paint::Scope scope(*painter);
        const Tokens& t = theme::tokensOf(option.widget);
        const bool chosen = option.state.testFlag(QStyle::State_Selected);
        const int count = index.data(kCountRole).toInt();
        const bool needsYou = index.row() == static_cast<int>(ShelfSection::WantsChecking) && count > 0;
        const QRectF box = QRectF(option.rect).adjusted(0, 1, 0, -1);
        if (chosen)
            paint::box(*painter, box, t.accentSoft, QColor());
        else if (option.state.testFlag(QStyle::State_MouseOver))
            paint::box(*painter, box, mixed(t.paper, t.ink, 0.05), QColor());
        if (chosen)
            painter->fillRect(QRectF(box.left(), box.top() + 8, 3, box.height() - 16), t.accentText);
        const QRectF sign(box.left() + 12, box.center().y() - 10, 20, 20);
        paintIcon(*painter, sign, sectionIcon(static_cast<ShelfSection>(index.row())),
                  needsYou ? t.amberText
                  : chosen ? t.accentText
                           : t.inkSoft);
        const QRectF text = box.adjusted(42, 0, -12, 0);
        painter->setFont(theme::font(chosen ? TextRole::Strong : TextRole::Body));
        painter->setPen(t.ink);
        painter->drawText(text, Qt::AlignVCenter | Qt::AlignLeft, index.data().toString());
        if (count > 0) {
            painter->setFont(theme::font(needsYou ? TextRole::Strong : TextRole::Small));
            painter->setPen(needsYou ? t.amberText : t.inkSoft);
            painter->drawText(text, Qt::AlignVCenter | Qt::AlignRight, QString::number(count));
        }
        if (chosen && option.state.testFlag(QStyle::State_HasFocus))
            paint::focusRing(*painter, box, t);
    }
};

} // namespace

ShelfIndex::ShelfIndex(QWidget* parent) : QListWidget(parent) {
    setAccessibleName(tr("Drawers of the shelf"));
    setFrameShape(QFrame::NoFrame);
    viewport()->setAutoFillBackground(false);
    setItemDelegate(new DrawerDelegate(this));
    setMouseTracking(true);
    setHorizontalScrollBarPolicy(Qt::ScrollBarAlwaysOff);
    setVerticalScrollBarPolicy(Qt::ScrollBarAsNeeded);
    setSizePolicy(QSizePolicy::Fixed, QSizePolicy::Expanding);
    for (int i = 0; i < kShelfSections; ++i)
        addItem(sectionName(static_cast<ShelfSection>(i)));
    setCurrentRow(static_cast<int>(ShelfSection::Paths));
    connect(this, &QListWidget::currentRowChanged, this, [this](int row) {
        if (row >= 0)
            emit sectionChosen(static_cast<ShelfSection>(row));
    });
}

void ShelfIndex::setCounts(const std::array<int, kShelfSections>& counts) {
    for (int i = 0; i < kShelfSections; ++i) {
        QListWidgetItem* drawer = item(i);
        const int count = counts[static_cast<std::size_t>(i)];
        drawer->setData(kCountRole, count);
        const QString name = sectionName(static_cast<ShelfSection>(i));
        drawer->setData(Qt::AccessibleTextRole, count > 0 ? tr("%1, %2").arg(name).arg(count) : name);
    }
}

ShelfSection ShelfIndex::section() const {
    return static_cast<ShelfSection>(currentRow());
}

void ShelfIndex::setSection(ShelfSection section) {
    setCurrentRow(static_cast<int>(section));
}

QSize ShelfIndex::sizeHint() const {
    return {184, kShelfSections * kRow + 8};
}

} // namespace milehold::ui
