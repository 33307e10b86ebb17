// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include "core/shop/shelf.h"

#include <QListView>

#include <optional>
#include <vector>

namespace milehold::ui {

class PathListModel;

/// A path as one row that a glove can hit.
struct PathRow {
    core::RepairPathId id;
    QString name;
    QString detail;      ///< hours and price
    bool applies = true; ///< to the vehicle at hand
    bool stale = false;  ///< its facts want checking
    friend bool operator==(const PathRow&, const PathRow&) = default;
};

/// The repair paths as large rows of which one is chosen: by tap, Enter or Space on the row, or its number 1
/// to 9. Delete takes the choice back.
class PathList : public QListView {
    Q_OBJECT
public:
    explicit PathList(QWidget* parent = nullptr);

    void setPaths(std::vector<PathRow> rows);
    void setPath(std::optional<core::RepairPathId> path);
    std::optional<core::RepairPathId> path() const { return path_; }

    QSize sizeHint() const override;

signals:
    void chosen(); ///< by the person; path() tells what, also when it was taken back

protected:
    void keyPressEvent(QKeyEvent* event) override;
    void focusInEvent(QFocusEvent* event) override;

private:
    void choose(std::optional<core::RepairPathId> path);
    int rowOf(core::RepairPathId path) const;

    PathListModel* model_;
    std::optional<core::RepairPathId> path_;
};

} // namespace milehold::ui
