// SPDX-License-Identifier: GPL-3.0-or-later
#include "ui/shell/top_bar.h"

#include "ui/theme/icons.h"
#include "ui/theme/paint.h"
#include "ui/theme/theme.h"
#include "ui/widgets/search_box.h"
#include "ui/widgets/segmented.h"

#include <QEvent>
#include <QHBoxLayout>
#include <QMenu>
#include <QToolButton>

namespace milehold::ui {

TopBar::TopBar(QWidget* parent) : QWidget(parent), row_(new QHBoxLayout(this)), search_(new SearchBox(this)) {
    setFixedHeight(56);
    row_->setContentsMargins(kMargin, 0, kGap, 0);
    row_->setSpacing(kGrid);
    search_->setPlaceholderText(tr("Last 8 of VIN, plate, customer, phone, repair order"));
    search_->setAccessibleName(tr("Search everything"));
    search_->setToolTip(tr("Search everything (Ctrl+K)"));
    search_->setMinimumWidth(240);
    search_->setMaximumWidth(520);
    row_->addWidget(search_, 1);
    row_->addStretch(0);
    undo_ = addButton(QStringLiteral("undo"), {});
    connect(undo_, &QToolButton::clicked, this, &TopBar::undoWanted);
    units_ = new Segmented({tr("mi"), tr("km")}, this);
    units_->button(0)->setAccessibleName(tr("Miles"));
    units_->button(1)->setAccessibleName(tr("Kilometres"));
    row_->addWidget(units_);
    connect(units_, &Segmented::chosen, this, [this](int index) {
        emit unitChosen(index == 0 ? core::DistanceUnit::Miles : core::DistanceUnit::Kilometres);
    });
    schemeButton_ = addButton(QStringLiteral("moon"), {});
    connect(schemeButton_, &QToolButton::clicked, this, [this] {
        setScheme(scheme_ == Scheme::Dark ? Scheme::Light : Scheme::Dark);
        emit schemeChosen(scheme_);
    });
    person_ = addButton(QStringLiteral("person"), tr("Who is at this station"));
    person_->setToolButtonStyle(Qt::ToolButtonTextBesideIcon);
    person_->setPopupMode(QToolButton::InstantPopup);
    more_ = addButton(QStringLiteral("more"), tr("More"));
    more_->setPopupMode(QToolButton::InstantPopup);
    auto* menu = new QMenu(more_);
    menu->addAction(icon(QStringLiteral("settings")), tr("The shop's settings"), this,
                    &TopBar::settingsWanted);
    menu->addAction(icon(QStringLiteral("backup")), tr("Backups…"), this, &TopBar::backupsWanted);
    menu->addSeparator();
    menu->addAction(icon(QStringLiteral("help")), tr("Help") + QStringLiteral("\tF1"), this,
                    &TopBar::helpWanted);
    menu->addAction(icon(QStringLiteral("keyboard")), tr("Keys") + QStringLiteral("\tCtrl+/"), this,
                    &TopBar::keysWanted);
    more_->setMenu(menu);
    setUnit(core::DistanceUnit::Miles);
    setScheme(theme::scheme());
    setUndoText({});
    setPeople({}, {});
}

QToolButton* TopBar::addButton(const QString& iconName, const QString& tip) {
    auto* button = new QToolButton(this);
    button->setIcon(icon(iconName));
    button->setToolTip(tip);
    button->setAccessibleName(tip);
    button->setFocusPolicy(Qt::TabFocus);
    row_->addWidget(button);
    return button;
}

void TopBar::setPeople(const QStringList& names, const QString& current) {
    person_->setText(current.isEmpty() ? tr("Who is here?") : current);
    person_->setAccessibleName(current.isEmpty() ? tr("Choose who is at this station")
                                                 : tr("At this station: %1").arg(current));
    auto* menu = new QMenu(person_);
    for (const QString& name : names) {
        QAction* action = menu->addAction(name, this, [this, name] { emit personChosen(name); });
        action->setCheckable(true);
        action->setChecked(name == current);
    }
    // Not at once: a choice in the old menu may be what brought us here.
    if (QMenu* old = person_->menu())
        old->deleteLater();
    person_->setMenu(menu);
    person_->setEnabled(!names.isEmpty());
}

void TopBar::setUnit(core::DistanceUnit unit) {
    units_->setCurrent(unit == core::DistanceUnit::Miles ? 0 : 1);
}

core::DistanceUnit TopBar::unit() const {
    return units_->current() == 1 ? core::DistanceUnit::Kilometres : core::DistanceUnit::Miles;
}

void TopBar::setScheme(Scheme scheme) {
    scheme_ = scheme;
    const bool dark = scheme == Scheme::Dark;
    schemeButton_->setIcon(icon(dark ? QStringLiteral("sun") : QStringLiteral("moon")));
    schemeButton_->setToolTip(dark ? tr("Switch to light") : tr("Switch to dark"));
    schemeButton_->setAccessibleName(schemeButton_->toolTip());
}

void TopBar::setUndoText(const QString& what) {
    undo_->setEnabled(!what.isEmpty());
    undo_->setToolTip(what.isEmpty() ? tr("Nothing to take back") : tr("Take back: %1 (Ctrl+Z)").arg(what));
    undo_->setAccessibleName(undo_->toolTip());
}

QMenu* TopBar::moreMenu() const {
    return more_->menu();
}

bool TopBar::canUndo() const {
    return undo_->isEnabled();
}

void TopBar::changeEvent(QEvent* event) {
    QWidget::changeEvent(event);
    // Whoever switched the colours, the button offers the other ones.
    if (event->type() == QEvent::PaletteChange && schemeButton_)
        setScheme(theme::scheme());
}

void TopBar::paintEvent(QPaintEvent*) {
    QPainter painter(this);
    paint::hairline(painter, QPointF(0, height() - 1), QPointF(width(), height() - 1),
                    theme::tokensOf(this).hairline);
}

} // namespace milehold::ui
