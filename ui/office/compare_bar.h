// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include "ui/office/office_view.h"

#include <QWidget>

class QComboBox;
class QLabel;

namespace milehold::ui {

/// Two groups set beside each other at the mark: which two, and the difference in words.
class CompareBar : public QWidget {
    Q_OBJECT
public:
    explicit CompareBar(QWidget* parent = nullptr);

    void setView(const OfficeView& view);

signals:
    void comparedChanged(const std::vector<std::string>& names);

private:
    void edited();

    QComboBox* first_ = nullptr;
    QComboBox* second_ = nullptr;
    QLabel* words_ = nullptr;
    std::vector<std::string> names_;
    bool filling_ = false;
};

} // namespace milehold::ui
