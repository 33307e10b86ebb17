// SPDX-License-Identifier: GPL-3.0-or-later
#include "ui/shell/message_bar.h"

#include "ui/theme/icons.h"
#include "ui/theme/paint.h"
#include "ui/theme/theme.h"

#include <QHBoxLayout>
#include <QLabel>
#include <QPushButton>
#include <QToolButton>
#include <QVBoxLayout>

namespace milehold::ui {

namespace {

class MessageRow : public QWidget {
public:
    MessageRow(const MessageBar::Message& message, QWidget* parent) : QWidget(parent), kind_(message.kind) {
        setObjectName(message.id);
        setAccessibleName(message.text);
    }

protected:
    void paintEvent(QPaintEvent*) override {
        QPainter painter(this);
        const Tokens& t = theme::tokensOf(this);
        const bool wrong = kind_ == MessageBar::Kind::Wrong;
        const bool tells = kind_ == MessageBar::Kind::Tells;
        const QColor ground = wrong ? t.dangerSoft : tells ? t.accentSoft : t.amberSoft;
        const QColor edge = wrong ? t.danger : tells ? t.accent : t.amber;
        painter.fillRect(rect(), ground);
        painter.fillRect(0, 0, 4, height(), edge);
        const QColor mark = wrong ? t.dangerText : tells ? t.accentText : t.amberText;
        paintIcon(painter, QRectF(kGap, (height() - 20) / 2.0, 20, 20),
                  wrong   ? QStringLiteral("error")
                  : tells ? QStringLiteral("info")
                          : QStringLiteral("bell"),
                  mark);
        paint::hairline(painter, QPointF(0, height() - 1), QPointF(width(), height() - 1), t.hairline);
    }

private:
    MessageBar::Kind kind_;
};

} // namespace

MessageBar::MessageBar(QWidget* parent) : QWidget(parent), rows_(new QVBoxLayout(this)) {
    rows_->setContentsMargins(0, 0, 0, 0);
    rows_->setSpacing(0);
    hide();
}

void MessageBar::show(const Message& message) {
    remove(message.id);
    auto* row = new MessageRow(message, this);
    auto* line = new QHBoxLayout(row);
    line->setContentsMargins(kGap + 28, 6, kGrid, 6);
    line->setSpacing(kGrid);
    auto* text = new QLabel(message.text, row);
    text->setWordWrap(true);
    text->setTextInteractionFlags(Qt::TextSelectableByMouse);
    line->addWidget(text, 1);
    for (int i = 0; i < message.actions.size(); ++i) {
        auto* button = new QPushButton(message.actions[i], row);
        connect(button, &QPushButton::clicked, this,
                [this, id = message.id, i] { emit actionChosen(id, i); });
        line->addWidget(button);
    }
    if (message.dismissable) {
        auto* close = new QToolButton(row);
        close->setIcon(icon(QStringLiteral("close")));
        close->setIconSize(QSize(16, 16));
        close->setToolTip(tr("Put this message away"));
        close->setAccessibleName(close->toolTip());
        close->setFocusPolicy(Qt::TabFocus);
        connect(close, &QToolButton::clicked, this, [this, id = message.id] {
            remove(id);
            emit dismissed(id);
        });
        line->addWidget(close);
    }
    row->setMinimumHeight(48);
    rows_->addWidget(row);
    row->show();
    setVisible(true);
}

void MessageBar::remove(const QString& id) {
    for (int i = 0; i < rows_->count(); ++i) {
        QWidget* row = rows_->itemAt(i)->widget();
        if (!row || row->objectName() != id)
            continue;
        delete rows_->takeAt(i);
        row->hide();
        row->deleteLater(); // one of its buttons may be on the stack
        break;
    }
    setVisible(rows_->count() > 0);
}

int MessageBar::count() const {
    return rows_->count();
}

} // namespace milehold::ui
