// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include "ui/office/office_view.h"

#include <QWidget>

#include <utility>
#include <vector>

class QComboBox;
class QPushButton;
class QSpinBox;

namespace milehold::ui {

class DateField;

/// What the filters of the Office offer.
struct OfficeChoices {
    std::vector<std::pair<core::EngineFamilyId, std::string>> families;
    std::vector<std::pair<core::RepairPathId, std::string>> paths;
    std::vector<std::pair<core::StaffId, std::string>> technicians;
    core::Date today; ///< what "last 12 months" is counted from
    friend bool operator==(const OfficeChoices&, const OfficeChoices&) = default;
};

/// What is grouped by what, and which repairs count: one line of fields over the chart.
class FilterBar : public QWidget {
    Q_OBJECT
public:
    explicit FilterBar(QWidget* parent = nullptr);

    void setChoices(const OfficeChoices& choices);
    /// Puts the fields' part of the query into the fields; emits nothing.
    void setQuery(const OfficeQuery& query);
    /// The query that was set, with the fields applied.
    OfficeQuery query() const;
    /// All filters off, emits edited() when that changes something.
    void clearFilters();

signals:
    void edited();

private:
    enum class Period { Any, Year, ThreeYears, Between };
    void fieldEdited();
    void showPeriod();

    OfficeQuery query_;
    OfficeChoices choices_;
    QComboBox* facet_ = nullptr;
    QComboBox* family_ = nullptr;
    QComboBox* path_ = nullptr;
    QSpinBox* fromYear_ = nullptr;
    QSpinBox* toYear_ = nullptr;
    QComboBox* technician_ = nullptr;
    QComboBox* period_ = nullptr;
    QWidget* between_ = nullptr;
    DateField* from_ = nullptr;
    DateField* to_ = nullptr;
    QPushButton* clear_ = nullptr;
    bool filling_ = false;
};

} // namespace milehold::ui
