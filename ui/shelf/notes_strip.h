// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include "ui/shelf/shelf_record.h"

#include <QWidget>

class QVBoxLayout;

namespace milehold::ui {

/// The notes on one thing of the shelf, newest check first, each a button that opens it.
class NotesStrip : public QWidget {
    Q_OBJECT
public:
    explicit NotesStrip(QWidget* parent = nullptr);
    void setNotes(const std::vector<core::ShelfNote>& notes, core::Date today);

signals:
    void noteChosen(const milehold::core::Uuid& id);
    void addWanted();

private:
    QVBoxLayout* list_;
};

} // namespace milehold::ui
