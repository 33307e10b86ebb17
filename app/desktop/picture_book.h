// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include <QObject>
#include <QString>
#include <QTimer>

#include <functional>
#include <vector>

namespace milehold::app {

class Desk;

/// Renders the owner's report, the customer's page and a picture of every room, by day and by night, into a
/// folder, and ends the program: for machines without a display and for the pictures of the manual.
class PictureBook : public QObject {
    Q_OBJECT
public:
    PictureBook(Desk& desk, const QString& folder, QObject* parent = nullptr);

    void start();

private:
    struct Page {
        QString name;
        std::function<void(Desk& desk)> turnTo;
    };

    void step();
    bool save(const QString& name);
    bool writeQuotePages();
    void writeReport();
    void giveUp(const QString& file, const QString& reason);

    Desk& desk_;
    QString folder_;
    std::vector<Page> pages_;
    QTimer quiet_;
    int still_ = 0;
    int page_ = -1;
};

} // namespace milehold::app
