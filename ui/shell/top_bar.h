// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include "core/quantity/distance.h"
#include "ui/shell/background_work.h"
#include "ui/theme/tokens.h"

#include <QWidget>

class QHBoxLayout;
class QLabel;
class QMenu;
class QProgressBar;
class QToolButton;

namespace milehold::ui {

class SearchBox;
class Segmented;

/// Search, undo, who is here, units, light and dark, over all rooms.
class TopBar : public QWidget {
    Q_OBJECT
public:
    explicit TopBar(QWidget* parent = nullptr);

    SearchBox* search() const { return search_; }
    void setPeople(const QStringList& names, const QString& current);
    void setUnit(core::DistanceUnit unit);
    core::DistanceUnit unit() const;
    void setScheme(Scheme scheme);
    void setUndoText(const QString& what);
    bool canUndo() const;
    QMenu* moreMenu() const;

signals:
    void personChosen(const QString& name);
    void unitChosen(milehold::core::DistanceUnit unit);
    void schemeChosen(milehold::ui::Scheme scheme);
    void undoWanted();
    void settingsWanted();
    void backupsWanted();
    void helpWanted();
    void keysWanted();

protected:
    void paintEvent(QPaintEvent* event) override;
    void changeEvent(QEvent* event) override;

private:
    QToolButton* addButton(const QString& iconName, const QString& tip);

    QHBoxLayout* row_;
    SearchBox* search_;
    Segmented* units_;
    QToolButton* undo_;
    QToolButton* person_;
    QToolButton* schemeButton_ = nullptr;
    QToolButton* more_;
    Scheme scheme_ = Scheme::Light;
};

/// The line at the bottom: what is going on, what was done last, how old the last backup is.
class StatusLine : public QWidget {
    Q_OBJECT
public:
    explicit StatusLine(QWidget* parent = nullptr);

    void setShop(const QString& name);
    void setBackup(const QString& text, bool needsYou);
    void setWork(const QList<BackgroundWork>& work);
    void setNote(const QString& text);

signals:
    void backupWanted();
    void workCancelled(int id);

protected:
    void paintEvent(QPaintEvent* event) override;

private:
    QLabel* shop_;
    QLabel* note_;
    QLabel* workText_;
    QProgressBar* workBar_;
    QToolButton* cancel_;
    QToolButton* backup_;
    int workId_ = 0;
};

} // namespace milehold::ui
