// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include "ui/charts/bar_chart.h"
#include "ui/charts/forest_plot.h"
#include "ui/charts/funnel_chart.h"
#include "ui/charts/watch_chart.h"
#include "ui/office/figure_jobs.h"

#include <QWidget>

#include <map>
#include <memory>
#include <optional>
#include <variant>
#include <vector>

class QComboBox;
class QLabel;
class QPushButton;
class QScrollArea;

namespace milehold::ui {

class PagePreview;
class RecordTable;
class ReportPage;

/// One chart with its words; every mark of it opens jobs.
struct OwnerFigure {
    QString title;
    std::variant<std::monostate, BarData, ForestData, FunnelData, WatchData> chart;
    QString words;                      ///< under it
    std::map<QString, JobsBehind> jobs; ///< by the id of a mark
};

/// A list of jobs with what the page says of each.
struct OwnerTable {
    struct Row {
        QStringList cells;
        bool needsYou = false; ///< amber mark before the first cell
        core::JobId job;       ///< that the row opens
        core::VehicleId vehicle;
    };
    QString title;
    QStringList headers;
    QList<int> widths;     ///< of the columns but the last, in pixels
    QList<int> numbers;    ///< columns that end at the right
    std::vector<Row> rows; ///< in the order in which they are shown
};

/// What a page of the owner's room shows.
struct OwnerPageData {
    QString lead; ///< the answer in words, first
    std::vector<OwnerFigure> figures;
    QString closing;                            ///< how it was worked out, and what it does not say
    QStringList choices;                        ///< of the action
    QString action;                             ///< on a button; blank: none
    bool isOneColumn = false;                   ///< figures that need the width, one below the other
    OwnerTable table{};                         ///< above the charts; without rows: none
    std::shared_ptr<const ReportPage> sheets{}; ///< shown as they will be printed, in place of charts
};

/// A page of the owner's room: words, a list of jobs where there is one, charts two abreast where they fit,
/// words.
class OwnerPage : public QWidget {
    Q_OBJECT
public:
    explicit OwnerPage(QWidget* parent = nullptr);

    void setData(const OwnerPageData& data);
    const OwnerPageData& data() const { return data_; }
    /// The vehicle of the row with the keyboard; empty without a list.
    std::optional<core::VehicleId> currentVehicle() const;

signals:
    void jobsWanted(const std::vector<milehold::core::JobId>& jobs, const QString& why);
    void actionWanted(int choice);
    void choiceMade(int choice);

private:
    QWidget* makeTable();
    void fillTable();
    QWidget* makeFigure(const OwnerFigure& figure, QWidget* parent);

    OwnerPageData data_;
    QLabel* lead_ = nullptr;
    QLabel* closing_ = nullptr;
    QScrollArea* scroll_ = nullptr;
    QComboBox* choices_ = nullptr;
    QPushButton* action_ = nullptr;
    QWidget* listed_ = nullptr; ///< the list with its title
    QLabel* tableTitle_ = nullptr;
    RecordTable* table_ = nullptr;
    PagePreview* preview_ = nullptr;
};

} // namespace milehold::ui
