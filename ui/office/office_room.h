// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include "ui/office/figure_jobs.h"
#include "ui/office/filter_bar.h"
#include "ui/office/office_view.h"
#include "ui/office/owner_topics.h"

#include <QWidget>

#include <memory>
#include <optional>

class QComboBox;
class QLabel;
class QPushButton;
class QSpinBox;
class QStackedWidget;

namespace milehold::ui {

class BusyLabel;
class CompareBar;
class CurveChart;
class EmptyState;
class GroupTable;
class OwnerPage;
class Segmented;

/// The owner's room: how long repairs last, by any way of grouping them; and on pages beside it what comes
/// back and costs, warranty, early warning, people, factors, evidence, our own quotes and the month's report.
/// The jobs stand behind every figure.
///
/// Shows an OfficeView and hands out what it is asked for; it computes nothing.
class OfficeRoom : public QWidget {
    Q_OBJECT
public:
    explicit OfficeRoom(QWidget* parent = nullptr);

    void setChoices(const OfficeChoices& choices);
    /// Puts a query into the fields, without emitting.
    void setQuery(const OfficeQuery& query);
    OfficeQuery query() const;
    void setView(std::shared_ptr<const OfficeView> view);
    const OfficeView* view() const { return view_.get(); }
    /// Says that the figures are being worked out, when it lasts.
    void setBusy(bool busy);
    /// A sentence in place of the figures, when they could not be worked out.
    void setProblem(const QString& sentence);

    /// What the owner looks at.
    OwnerTopic topic() const;
    void showTopic(OwnerTopic topic);
    /// The page of a topic other than the curves.
    void setPage(OwnerTopic topic, const OwnerPageData& page);
    const OwnerPageData& page(OwnerTopic topic) const;
    /// How many claims are past their deadline or near it: said beside the topic that lists them.
    void setClaimsDue(int claims);
    /// The vehicle of the row that the keyboard is at; empty where no list is shown.
    std::optional<core::VehicleId> currentVehicle() const;

    enum class Export { GroupsCsv, StepsCsv, ChartPng, ChartPdf };
    /// What is shown, as the bytes of a file.
    QByteArray exported(Export what) const;

signals:
    void queryChanged(const milehold::ui::OfficeQuery& query);
    void jobsWanted(const std::vector<milehold::core::JobId>& jobs, const QString& why);
    void exportWanted(milehold::ui::OfficeRoom::Export what);
    void logJobWanted();
    void topicWanted(milehold::ui::OwnerTopic topic); ///< its page is to be worked out
    void reportWanted(int choice);                    ///< of the report page's months
    void reportChosen(int choice);                    ///< another month is to be shown

private:
    QWidget* makeTopics();
    QWidget* makeCurves();
    QWidget* makeChartSide();
    QWidget* makeTableSide();
    void fillExportMenu();
    void fieldEdited();
    void showChart();
    void showEmpty(bool filtered);
    void showReadings(int row);
    void openFigure(int row, GroupFigure figure);
    void openPoint(const QString& group, double miles);

    std::shared_ptr<const OfficeView> view_;
    OfficeQuery query_;
    Segmented* topics_ = nullptr;
    QStackedWidget* views_ = nullptr;
    std::vector<OwnerPage*> topicPages_; ///< of the topics after the curves
    FilterBar* filters_ = nullptr;
    Segmented* reading_ = nullptr;
    QComboBox* limits_ = nullptr;
    QSpinBox* mark_ = nullptr;
    QStackedWidget* pages_ = nullptr;
    CurveChart* chart_ = nullptr;
    GroupTable* table_ = nullptr;
    CompareBar* compare_ = nullptr;
    QLabel* readings_ = nullptr;
    QLabel* caution_ = nullptr;
    QLabel* evidence_ = nullptr;
    BusyLabel* busy_ = nullptr;
    QPushButton* export_ = nullptr;
    EmptyState* empty_ = nullptr;
    EmptyState* filtered_ = nullptr;
    bool filling_ = false;
};

} // namespace milehold::ui
