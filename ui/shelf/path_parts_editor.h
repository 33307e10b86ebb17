// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include "core/shop/shelf.h"

#include <QWidget>

#include <vector>

class QComboBox;
class QPushButton;
class QVBoxLayout;

namespace milehold::ui {

class EnginePlan;
class IdCombo;
class WholeField;

/// The parts that a repair path fits by default, by position: chosen on the drawn plan, listed below it.
class PathPartsEditor : public QWidget {
    Q_OBJECT
public:
    explicit PathPartsEditor(QWidget* parent = nullptr);
    void setShelf(const core::Shelf& shelf);
    /// The engines of the path: the plan shows the one with the most positions, the lists offer those of all.
    void setFamilies(const std::vector<core::EngineFamilyId>& families);
    void setParts(const std::vector<core::PathPart>& parts);
    std::vector<core::PathPart> parts() const;
    bool hasValidText() const;
    EnginePlan* plan() const { return plan_; }

signals:
    void edited(); ///< by the user

private:
    struct Row {
        QWidget* widget = nullptr;
        IdCombo* part = nullptr;
        QComboBox* position = nullptr;
        WholeField* quantity = nullptr;
    };
    void addRow(const core::PathPart& part);
    void nameFields(); ///< by their row
    void removeRow(QWidget* widget);
    void addChosen();
    void fillPositions(QComboBox& combo, const std::optional<core::Position>& keep) const;
    void touched();
    void showOnPlan();
    void wordButton();

    core::Shelf shelf_;
    int banks_ = 1;
    std::vector<core::Position> positions_;
    core::EngineFamilyId drawn_;
    std::vector<Row> rows_;
    EnginePlan* plan_;
    IdCombo* next_;
    QPushButton* add_;
    QVBoxLayout* list_;
};

} // namespace milehold::ui
