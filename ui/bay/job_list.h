// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include "ui/bay/bay_context.h"
#include "ui/bay/job_table_model.h"

#include <QStringList>
#include <QWidget>

#include <optional>

class QHBoxLayout;
class QLabel;
class QLineEdit;
class QPushButton;
class QTimer;

namespace milehold::ui {

class EmptyState;
class MessageBar;
class RecordTable;
class Segmented;

/// Which jobs the list shows.
enum class JobsShown { InWork, Finished, All, Given };

struct JobQuery {
    JobsShown shown = JobsShown::InWork;
    QString text; ///< blank: any
    friend bool operator==(const JobQuery&, const JobQuery&) = default;
};

/// A half-filled sheet that is offered again.
struct DraftOffer {
    QString key;
    QString what; ///< `Job 412, 2027 Ordway Lantern`
    QString when; ///< `today at 10:42`
    friend bool operator==(const DraftOffer&, const DraftOffer&) = default;
};

/// The Bay's jobs: in work, finished, all, or those behind a figure; searched while typing.
class JobList : public QWidget {
    Q_OBJECT
public:
    explicit JobList(QWidget* parent = nullptr);

    void setJobs(std::vector<JobListRow> rows, bool more = false);
    void setUnit(core::DistanceUnit unit);
    /// Tells an empty list what a first job still wants on the Shelf.
    void setContext(const BayContext& context);
    /// The list could not be read: says so instead of looking empty.
    void setProblem(const QString& sentence);
    const JobQuery& query() const { return query_; }
    void setShown(JobsShown shown);
    /// Jobs behind a figure, and what the figure is.
    void showGiven(const QString& why);
    void setDrafts(const QList<DraftOffer>& drafts);
    JobTableModel* model() const { return model_; }
    void selectJob(core::JobId job);
    /// Of the chosen row; empty without one.
    std::optional<core::VehicleId> currentVehicle() const;
    void focusList();
    QWidget* list() const; ///< where the keyboard belongs on this page

signals:
    void queryChanged();
    void jobOpened(milehold::core::JobId job);
    void newJobWanted();
    void draftResumed(const QString& key);
    void draftDropped(const QString& key);

protected:
    void resizeEvent(QResizeEvent* event) override;

private:
    QHBoxLayout* makeHead();
    QWidget* makeGivenRow(); ///< over the table while it holds the jobs behind a figure only
    void setUpTable();
    void connectAll();
    void showColumns();
    void updateEmptyText();

    JobQuery query_;
    QStringList missing_; ///< on the Shelf, without which no job can be finished
    JobTableModel* model_;
    MessageBar* drafts_;
    QList<QString> draftKeys_;
    QLabel* title_;
    QLineEdit* search_;
    Segmented* shown_;
    QPushButton* new_;
    QLabel* given_;
    QWidget* givenRow_;
    RecordTable* table_;
    QLabel* foot_;
    QTimer* rest_;
};

} // namespace milehold::ui
