// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include "core/shop/shelf.h"

#include <QWidget>

#include <vector>

class QVBoxLayout;
class QPushButton;

namespace milehold::ui {

class IdCombo;
class WholeField;

/// Where a repair path may be used, one row an engine family: model years, and a calibration that it needs or
/// excludes.
class AppliesEditor : public QWidget {
    Q_OBJECT
public:
    explicit AppliesEditor(QWidget* parent = nullptr);
    void setShelf(const core::Shelf& shelf);
    void setApplies(const std::vector<core::PathApplies>& applies);
    std::vector<core::PathApplies> applies() const;
    bool hasValidText() const;

signals:
    void edited(); ///< by the user

private:
    struct Row {
        core::PathApplies loaded;
        QWidget* widget = nullptr;
        IdCombo* family = nullptr;
        WholeField* from = nullptr;
        WholeField* to = nullptr;
        IdCombo* needs = nullptr;
        IdCombo* excludes = nullptr;
        QWidget* limits = nullptr; ///< the second line: calibrations
    };
    void addRow(const core::PathApplies& applies);
    void nameFields(); ///< by their row
    void fill(Row& row) const;
    void removeRow(QWidget* widget);

    core::Shelf shelf_;
    std::vector<Row> rows_;
    QVBoxLayout* list_;
    QWidget* head_;
    QPushButton* add_;
};

} // namespace milehold::ui
