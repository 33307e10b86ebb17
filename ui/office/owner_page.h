// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include "ui/charts/bar_chart.h"
#include "ui/charts/forest_plot.h"
#include "ui/charts/funnel_chart.h"
#include "ui/charts/watch_chart.h"
#include "ui/office/figure_jobs.h"

#include <QWidget>

#include <map>
#include <variant>
#include <vector>

class QComboBox;
class QLabel;
class QPushButton;
class QScrollArea;

namespace milehold::ui {

/// One chart with its words; every mark of it opens jobs.
struct OwnerFigure {
    QString title;
    std::variant<std::monostate, BarData, ForestData, FunnelData, WatchData> chart;
    QString words;                      ///< under it
    std::map<QString, JobsBehind> jobs; ///< by the id of a mark
};

/// What a page of the owner's room shows.
struct OwnerPageData {
    QString lead; ///< the answer in words, first
    std::vector<OwnerFigure> figures;
    QString closing;          ///< how it was worked out, and what it does not say
    QStringList choices;      ///< of the action
    QString action;           ///< on a button; blank: none
    bool isOneColumn = false; ///< figures that need the width, one below the other
};

/// A page of the owner's room: words, charts two abreast where they fit, words.
class OwnerPage : public QWidget {
    Q_OBJECT
public:
    explicit OwnerPage(QWidget* parent = nullptr);

    void setData(const OwnerPageData& data);
    const OwnerPageData& data() const { return data_; }

signals:
    void jobsWanted(const std::vector<milehold::core::JobId>& jobs, const QString& why);
    void actionWanted(int choice);

private:
    QWidget* makeFigure(const OwnerFigure& figure, QWidget* parent);

    OwnerPageData data_;
    QLabel* lead_ = nullptr;
    QLabel* closing_ = nullptr;
    QScrollArea* scroll_ = nullptr;
    QComboBox* choices_ = nullptr;
    QPushButton* action_ = nullptr;
};

} // namespace milehold::ui
