// SPDX-License-Identifier: GPL-3.0-or-later
#include "ui/bay/cautions.h"

#include "ui/theme/icons.h"
#include "ui/theme/theme.h"
#include "ui/widgets/text.h"

#include <QHBoxLayout>
#include <QLabel>
#include <QPainter>
#include <QVBoxLayout>

namespace milehold::ui {
namespace {

/// An icon in front of a heading, in the colours of the theme in force.
class Sign : public QWidget {
public:
    Sign(const QString& name, bool amber, QWidget* parent) : QWidget(parent), name_(name), amber_(amber) {
        setFixedSize(18, 18);
    }

protected:
    void paintEvent(QPaintEvent*) override {
        QPainter painter(this);
        const Tokens& tokens = theme::tokensOf(this);
        paintIcon(painter, QRectF(rect()), name_, amber_ ? tokens.amberText : tokens.inkSoft);
    }

private:
    QString name_;
    bool amber_;
};

constexpr int kIndent = 26;

} // namespace

Cautions::Cautions(QWidget* parent) : QWidget(parent), rows_(new QVBoxLayout(this)) {
    setObjectName(QStringLiteral("cautions"));
    rows_->setContentsMargins(0, kGrid, 0, 0);
    rows_->setSpacing(3);
    hide();
}

void Cautions::setPath(const core::RepairPath* path) {
    while (QLayoutItem* item = rows_->takeAt(0)) {
        delete item->widget();
        delete item;
    }
    if (path) {
        addList(QStringLiteral("warning"), tr("Careful"), path->cautions, true);
        addList(QStringLiteral("part"), tr("Use once only"), path->replaceOnce, false);
    }
    setVisible(rows_->count() > 0);
}

void Cautions::addList(const QString& iconName, const QString& title, const std::vector<std::string>& items,
                       bool amber) {
    if (items.empty())
        return;
    auto* head = new QWidget(this);
    auto* row = new QHBoxLayout(head);
    row->setContentsMargins(0, rows_->count() > 0 ? kGrid : 0, 0, 0);
    row->setSpacing(kGrid);
    row->addWidget(new Sign(iconName, amber, head));
    auto* name = new QLabel(title, head);
    theme::setText(name, TextRole::Strong);
    row->addWidget(name, 1);
    rows_->addWidget(head);
    for (const auto& item : items) {
        auto* label = new QLabel(toText(item), this);
        label->setTextFormat(Qt::PlainText);
        label->setWordWrap(true);
        label->setContentsMargins(kIndent, 0, 0, 0);
        theme::setText(label, TextRole::Small);
        rows_->addWidget(label);
    }
}

} // namespace milehold::ui
