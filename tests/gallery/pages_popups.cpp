// SPDX-License-Identifier: GPL-3.0-or-later
#include "tests/gallery/pages.h"
#include "ui/shell/help_viewer.h"
#include "ui/shell/main_window.h"
#include "ui/shell/shortcuts_sheet.h"
#include "ui/theme/icons.h"
#include "ui/theme/theme.h"
#include "ui/widgets/search_box.h"

#include <QCalendarWidget>
#include <QHBoxLayout>
#include <QListWidget>
#include <QMenu>
#include <QMessageBox>
#include <QPushButton>
#include <QSplitter>
#include <QTimer>
#include <QToolTip>
#include <QTreeWidget>

namespace milehold::gallery {

using namespace ui;

QWidget* searchPage() {
    QWidget* page = windowPage();
    SearchBox* search = static_cast<MainWindow*>(page)->search();
    QObject::connect(search, &SearchBox::textChanged, search, [search](const QString& text) {
        search->setResults(
            text,
            {{"vehicle", "Plate KLM 204", "Brannik Corrie 2.4 V6, 2019, 88,140 mi", "Vehicle", 1},
             {"person", "Kolm, Dita", "555 0137, two vehicles", "Customer", 2},
             {"job", "Repair order 20417",
              "Donaudampfschifffahrtselektrizitätenhauptbetriebswerk, Nockenwellenversteller Auslass Bank 2",
              "Repair order", 3}});
    });
    QTimer::singleShot(40, search, [search] {
        search->setFocus();
        search->setText("kl");
    });
    return page;
}

QWidget* menuPage() {
    auto* menu = new QMenu;
    menu->addAction(icon("edit"), "Correct the job\tF2");
    menu->addAction(icon("link"), "Link a comeback…");
    menu->addAction(icon("print"), "Print\tCtrl+P");
    menu->addSeparator();
    QAction* chosen = menu->addAction("Only jobs without a delivery check");
    chosen->setCheckable(true);
    chosen->setChecked(true);
    menu->addMenu("Copy as");
    QAction* off = menu->addAction(icon("delete"), "Void the job…");
    off->setEnabled(false);
    menu->setActiveAction(menu->actions().at(1));
    return menu;
}

QWidget* calendarPage() {
    auto* calendar = new QCalendarWidget;
    calendar->setVerticalHeaderFormat(QCalendarWidget::NoVerticalHeader);
    calendar->setSelectedDate(QDate(2031, 4, 9));
    return calendar;
}

QWidget* helpPage() {
    auto* help = new HelpViewer;
    help->showPage({});
    return help;
}

QWidget* keysPage() {
    return new ShortcutsSheet(
        {{"Rooms", {{"Alt+1", "Bay"}, {"Alt+2", "Counter"}}},
         {"Everywhere",
          {{"Ctrl+K", "Search vehicles, customers, repair orders"}, {"Ctrl+Z", "Take back the last save"}}}});
}

QWidget* questionPage() {
    auto* box = new QMessageBox;
    box->setWindowTitle("Void the job");
    box->setIcon(QMessageBox::Warning);
    box->setText("Void job 1204?");
    box->setInformativeText("It drops out of every figure. The record stays, with your reason.");
    auto* yes = box->addButton("Void the job", QMessageBox::DestructiveRole);
    theme::setRole(qobject_cast<QPushButton*>(yes), ButtonRole::Danger);
    box->addButton("Keep it", QMessageBox::RejectRole);
    return box;
}

QWidget* listsPage() {
    auto* split = new QSplitter;
    auto* tree = new QTreeWidget;
    tree->setHeaderLabels({"Part", "Revision"});
    auto* root = new QTreeWidgetItem(tree, {"TP-4410", "A to C"});
    for (const char* text : {"TP-4410 A", "TP-4410 B", "TP-4410 C"})
        new QTreeWidgetItem(root, {text, "since 2026"});
    new QTreeWidgetItem(new QTreeWidgetItem(tree, {"TP-5120", "A"}), {"TP-5120 A", "since 2029"});
    root->setExpanded(true);
    tree->setCurrentItem(root->child(1));
    tree->setColumnWidth(0, 220);
    auto* list = new QListWidget;
    for (const char* text : {"Brannik 2.4 V6", "Ostrel 1.8", "Tamsen 3.0 V6"})
        new QListWidgetItem(icon("engine"), text, list);
    auto* checked = new QListWidgetItem("With a check mark", list);
    checked->setCheckState(Qt::Checked);
    list->setCurrentRow(1);
    list->setObjectName("focusHere");
    split->addWidget(tree);
    split->addWidget(list);
    return split;
}

} // namespace milehold::gallery
