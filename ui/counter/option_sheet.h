// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include "ui/counter/option_model.h"

#include <QTableView>

namespace milehold::ui {

/// The options of a quote as one sheet. Left and Right choose a path, Enter opens the jobs behind its
/// figures.
class OptionSheet : public QTableView {
    Q_OBJECT
public:
    explicit OptionSheet(QWidget* parent = nullptr);

    /// Shows a quote and chooses the path that was chosen before, else the first one with the most to say.
    void setQuote(std::shared_ptr<const core::Quote> quote, const std::string& currency);
    void setRows(OptionModel::Rows rows);
    /// The next quote is of another vehicle: its own first path is chosen.
    void forgetChoice();
    OptionModel& options() { return *model_; }
    /// -1 without a path.
    int chosenPath() const { return chosen_; }
    void choosePath(int column);

signals:
    void pathChosen(int column);
    void horizonChosen(std::int64_t distance); ///< in the quote's unit
    void jobsAsked(int column);

protected:
    void keyPressEvent(QKeyEvent* event) override;
    void mouseDoubleClickEvent(QMouseEvent* event) override;
    void resizeEvent(QResizeEvent* event) override;
    void currentChanged(const QModelIndex& current, const QModelIndex& previous) override;

private:
    void layOut();
    void put(int column);

    OptionModel* model_ = nullptr;
    int chosen_ = -1;
    bool filling_ = false;
};

} // namespace milehold::ui
