// SPDX-License-Identifier: GPL-3.0-or-later
// The least that a program with a window and a database does: what starting Milehold is measured against.
#include <QApplication>
#include <QLabel>
#include <QMainWindow>
#include <QSqlDatabase>
#include <QSqlQuery>
#include <QVariant>

int main(int argc, char** argv) {
    QApplication program(argc, argv);
    auto database = QSqlDatabase::addDatabase(QStringLiteral("QSQLITE"));
    database.setDatabaseName(program.arguments().value(1));
    if (!database.open())
        return 1;
    QSqlQuery query(QStringLiteral("SELECT count(*) FROM sqlite_schema"), database);
    QMainWindow window;
    window.setCentralWidget(new QLabel(query.next() ? query.value(0).toString() : QString()));
    window.resize(1280, 800);
    window.show();
    return QApplication::exec();
}
