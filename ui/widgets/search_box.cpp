// SPDX-License-Identifier: GPL-3.0-or-later
#include "ui/widgets/search_box.h"

#include "ui/theme/icons.h"
#include "ui/theme/paint.h"
#include "ui/theme/theme.h"

#include <QAbstractListModel>
#include <QKeyEvent>
#include <QListView>
#include <QStyledItemDelegate>
#include <QTimer>
#include <QVBoxLayout>

namespace milehold::ui {

class SearchModel : public QAbstractListModel {
public:
    using QAbstractListModel::QAbstractListModel;
    int rowCount(const QModelIndex& parent = {}) const override {
        return parent.isValid() ? 0 : static_cast<int>(results_.size());
    }
    QVariant data(const QModelIndex& index, int role) const override {
        if (!index.isValid())
            return {};
        const SearchResult& result = results_[index.row()];
        if (role == Qt::DisplayRole || role == Qt::AccessibleTextRole) {
            return QString(result.kind + QStringLiteral(": ") + result.title + QStringLiteral(", ") +
                           result.detail);
        }
        return {};
    }
    void set(const QList<SearchResult>& results) {
        beginResetModel();
        results_ = results;
        endResetModel();
    }
    const SearchResult& at(int row) const { return results_[row]; }

private:
    QList<SearchResult> results_;
};

namespace {

constexpr int kResultHeight = 52;
constexpr int kMostShown = 8;

class ResultDelegate : public QStyledItemDelegate {
public:
    ResultDelegate(const SearchModel* model, QObject* parent) : QStyledItemDelegate(parent), model_(model) {}

    void paint(QPainter* painter, const QStyleOptionViewItem& option,
               const QModelIndex& index) const override {
        const paint::Scope scope(*painter);
        const Tokens& t = theme::tokensOf(option.widget);
        const QRect r = option.rect;
        if (option.state & (QStyle::State_Selected | QStyle::State_MouseOver)) {
            const bool selected = option.state & QStyle::State_Selected;
            paint::box(*painter, QRectF(r).adjusted(4, 1, -4, -1),
                       selected ? t.accentSoft : mixed(t.raised, t.ink, 0.05), QColor(), kRadius - 2);
        }
        const SearchResult& result = model_->at(index.row());
        paintIcon(*painter, QRectF(r.left() + 14, r.center().y() - 10, 20, 20), result.icon, t.inkSoft);
        const QFont small = theme::font(TextRole::Small);
        const int kindWidth = QFontMetrics(small).horizontalAdvance(result.kind);
        painter->setFont(small);
        painter->setPen(t.inkSoft);
        painter->drawText(QRect(r.right() - kindWidth - 14, r.top() + 8, kindWidth + 2, 18), Qt::AlignVCenter,
                          result.kind);
        const int left = r.left() + 46;
        const int detailRoom = r.right() - left - 14;
        painter->drawText(QRect(left, r.top() + 26, detailRoom, 18), Qt::AlignVCenter,
                          QFontMetrics(small).elidedText(result.detail, Qt::ElideRight, detailRoom));
        const QFont strong = theme::font(TextRole::Strong);
        painter->setFont(strong);
        painter->setPen(t.ink);
        const int titleRoom = detailRoom - kindWidth - 12;
        painter->drawText(QRect(left, r.top() + 7, titleRoom, 19), Qt::AlignVCenter,
                          QFontMetrics(strong).elidedText(result.title, Qt::ElideRight, titleRoom));
    }
    QSize sizeHint(const QStyleOptionViewItem&, const QModelIndex&) const override {
        return {280, kResultHeight};
    }

private:
    const SearchModel* model_;
};

/// The sheet under the field. A child of the window, not a window: it cannot take the keyboard away.
class ResultSheet : public QWidget {
public:
    using QWidget::QWidget;
    QString emptyText;

protected:
    void paintEvent(QPaintEvent*) override {
        QPainter painter(this);
        const Tokens& t = theme::tokensOf(this);
        paint::box(painter, QRectF(rect()), t.raised, t.outline);
        if (!emptyText.isEmpty()) {
            painter.setPen(t.inkSoft);
            painter.drawText(rect().adjusted(kGap, 0, -kGap, 0), Qt::AlignLeft | Qt::AlignVCenter, emptyText);
        }
    }
};

} // namespace

SearchBox::SearchBox(QWidget* parent)
    : QLineEdit(parent), model_(new SearchModel(this)), rest_(new QTimer(this)) {
    setTextMargins(26, 0, 0, 0);
    setClearButtonEnabled(false);
    nothingFound_ = tr("Nothing found");
    rest_->setSingleShot(true);
    rest_->setInterval(60);
    connect(rest_, &QTimer::timeout, this, [this] { emit queryChanged(text().trimmed()); });
    connect(this, &QLineEdit::textEdited, this, [this] {
        hasAnswer_ = false;
        wantsFirst_ = false;
        rest_->start();
        if (text().trimmed().isEmpty())
            close();
    });
}

void SearchBox::setResults(const QString& query, const QList<SearchResult>& results) {
    if (query != text().trimmed() || query.isEmpty())
        return;
    answered_ = query;
    hasAnswer_ = true;
    model_->set(results);
    if (wantsFirst_ && !results.isEmpty()) {
        wantsFirst_ = false;
        choose(0);
        return;
    }
    if (hasFocus())
        open();
}

void SearchBox::setNothingFoundText(const QString& text) {
    nothingFound_ = text;
}
bool SearchBox::isOpen() const {
    return popup_ && popup_->isVisible();
}
int SearchBox::resultCount() const {
    return model_->rowCount();
}

QSize SearchBox::sizeHint() const {
    return {360, QLineEdit::sizeHint().height()};
}

void SearchBox::open() {
    if (!popup_) {
        auto* sheet = new ResultSheet(window());
        auto* stack = new QVBoxLayout(sheet);
        stack->setContentsMargins(2, 4, 2, 4);
        list_ = new QListView(sheet);
        list_->setFrameShape(QFrame::NoFrame);
        list_->setFocusPolicy(Qt::NoFocus);
        list_->setModel(model_);
        list_->setItemDelegate(new ResultDelegate(model_, list_));
        list_->setMouseTracking(true);
        list_->setUniformItemSizes(true);
        list_->viewport()->setAutoFillBackground(false);
        list_->setAccessibleName(tr("Search results"));
        stack->addWidget(list_);
        connect(list_, &QListView::clicked, this, [this](const QModelIndex& index) { choose(index.row()); });
        popup_ = sheet;
        connect(popup_, &QObject::destroyed, this, [this] { popup_ = nullptr; });
        window()->installEventFilter(this);
    }
    const bool none = model_->rowCount() == 0;
    static_cast<ResultSheet*>(popup_)->emptyText = none ? nothingFound_ : QString();
    list_->setVisible(!none);
    if (!none)
        list_->setCurrentIndex(model_->index(0, 0));
    place();
    popup_->show();
    popup_->raise();
    popup_->update();
}

void SearchBox::place() {
    if (!popup_)
        return;
    const int rows = std::min(model_->rowCount(), kMostShown);
    const int height = rows == 0 ? 48 : rows * kResultHeight + 8;
    const QPoint at = mapTo(window(), QPoint(0, this->height() + 4));
    const int wide = std::min(std::max(width(), 480), window()->width() - at.x() - kGrid);
    popup_->setGeometry(QRect(at, QSize(wide, std::min(height, window()->height() - at.y() - kGrid))));
}

void SearchBox::close() {
    if (popup_)
        popup_->hide();
}

void SearchBox::choose(int row) {
    if (row < 0 || row >= model_->rowCount())
        return;
    const QVariant key = model_->at(row).key;
    close();
    clear();
    hasAnswer_ = false;
    emit chosen(key);
}

void SearchBox::keyPressEvent(QKeyEvent* event) {
    const int last = model_->rowCount() - 1;
    switch (event->key()) {
    case Qt::Key_Down:
    case Qt::Key_Up: {
        if (!isOpen()) {
            if (hasAnswer_ && event->key() == Qt::Key_Down)
                open();
            return;
        }
        const int by = event->key() == Qt::Key_Down ? 1 : -1;
        const int row = std::clamp(list_->currentIndex().row() + by, 0, std::max(0, last));
        list_->setCurrentIndex(model_->index(row, 0));
        return;
    }
    case Qt::Key_Return:
    case Qt::Key_Enter:
        if (text().trimmed().isEmpty())
            return;
        if (hasAnswer_ && answered_ == text().trimmed() && last >= 0) {
            choose(isOpen() && list_->currentIndex().isValid() ? list_->currentIndex().row() : 0);
            return;
        }
        // The answer is not there yet: take its first row when it comes.
        wantsFirst_ = !hasAnswer_;
        if (!hasAnswer_) {
            rest_->stop();
            emit queryChanged(text().trimmed());
        }
        emit submitted(text().trimmed());
        return;
    case Qt::Key_Escape:
        if (isOpen()) {
            close();
        } else if (!text().isEmpty()) {
            clear();
        } else {
            event->ignore();
        }
        return;
    default:
        QLineEdit::keyPressEvent(event);
    }
}

void SearchBox::focusOutEvent(QFocusEvent* event) {
    QLineEdit::focusOutEvent(event);
    if (event->reason() != Qt::ActiveWindowFocusReason)
        close();
}

bool SearchBox::eventFilter(QObject* watched, QEvent* event) {
    if (event->type() == QEvent::Resize && isOpen())
        place();
    return QLineEdit::eventFilter(watched, event);
}

void SearchBox::paintEvent(QPaintEvent* event) {
    QLineEdit::paintEvent(event);
    QPainter painter(this);
    paintIcon(painter, QRectF(9, (height() - 18) / 2.0, 18, 18), QStringLiteral("search"),
              theme::tokensOf(this).inkSoft);
}

} // namespace milehold::ui
