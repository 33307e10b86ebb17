// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include "core/shop/shelf.h"
#include "ui/widgets/unit_field.h"

#include <QPlainTextEdit>

#include <cstdint>
#include <optional>
#include <string>
#include <vector>

namespace milehold::ui {

class DateField;

/// A whole number without grouping: a model year, months.
class WholeField : public UnitField {
    Q_OBJECT
public:
    explicit WholeField(QWidget* parent = nullptr);
    void setValue(std::optional<int> value);
    /// Empty when blank or unreadable; hasValidText() tells them apart.
    std::optional<int> value() const;
    bool hasValidText() const;

signals:
    void edited(); ///< by the user
};

/// Several lines of text that grow with what is in them; Tab leaves, the wheel belongs to the page.
class TextField : public QPlainTextEdit {
    Q_OBJECT
public:
    explicit TextField(int leastLines = 2, QWidget* parent = nullptr);

    void setText(const std::string& text);
    std::string text() const;
    /// One entry a line; blank lines are none. An untouched field gives back exactly what was set.
    void setEntries(const std::vector<std::string>& entries);
    std::vector<std::string> entries() const;

signals:
    void edited(); ///< by the user

protected:
    void resizeEvent(QResizeEvent* event) override;
    void paintEvent(QPaintEvent* event) override;
    void wheelEvent(QWheelEvent* event) override;

private:
    void fit();
    void put(const QString& text);

    int leastLines_;
    bool loading_ = false;
    bool marked_ = false; ///< a mark before every entry
    QString shown_;
    std::string loadedText_;
    std::vector<std::string> loadedEntries_;
};

/// When a fact was checked, and by when it wants checking again.
class FreshnessFields : public QWidget {
    Q_OBJECT
public:
    explicit FreshnessFields(QWidget* parent = nullptr);
    void setToday(core::Date today);
    void setFreshness(const core::Freshness& freshness);
    core::Freshness freshness() const;
    bool hasValidText() const;

signals:
    void edited(); ///< by the user

private:
    DateField* checkedOn_;
    DateField* checkAgainBy_;
};

} // namespace milehold::ui
