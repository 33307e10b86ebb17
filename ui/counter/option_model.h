// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include "core/quote/quote.h"

#include <QAbstractTableModel>

#include <memory>
#include <vector>

namespace milehold::ui {

/// The applicable repair paths side by side: a column each, a row for every distance asked about and for what
/// the figures rest on.
class OptionModel : public QAbstractTableModel {
    Q_OBJECT
public:
    /// Which distances the rows stand at; Basis: none, but all that the figures rest on.
    enum class Rows { Years, Marks, Basis, FromHere };
    enum Role { UnderRole = Qt::UserRole + 50, FaintRole, NeedsYouRole, FactRole, HorizonRole };
    enum class Fact { RestsOn, Cost, Followed, LostSight, HalfBack, Readings, LikePaths, ShelfFacts };

    explicit OptionModel(QObject* parent = nullptr) : QAbstractTableModel(parent) {}

    void setQuote(std::shared_ptr<const core::Quote> quote, const std::string& currency);
    void setRows(Rows rows);
    Rows rows() const { return rows_; }
    /// True when some path of the quote already runs in this vehicle.
    bool hasFromHere() const;
    /// The distance that a row stands at, in the quote's unit; empty for a row of facts.
    std::optional<std::int64_t> distanceOf(int row) const;
    /// The row that stands at the quote's horizon, -1 without one.
    int horizonRow() const;
    const core::Quote* quote() const { return quote_.get(); }
    const core::PathQuote& path(int column) const { return quote_->paths[static_cast<std::size_t>(column)]; }

    int rowCount(const QModelIndex& parent = {}) const override;
    int columnCount(const QModelIndex& parent = {}) const override;
    QVariant data(const QModelIndex& index, int role) const override;
    /// A column's header holds the path's name, under it its price and time (UnderRole).
    QVariant headerData(int section, Qt::Orientation orientation, int role) const override;

private:
    int chanceRows() const;
    /// The facts under the chances, two of them beside figures, all of them by themselves.
    std::vector<Fact> facts() const;
    const core::QuotePoint* point(int row, int column) const;
    QString fact(const core::PathQuote& path, Fact fact) const;
    QString factTip(const core::PathQuote& path, Fact fact) const;
    QString costText(const core::PathQuote& path) const;
    static QString factName(Fact fact, core::DistanceUnit unit);
    QString rowLabel(int row, int role) const;

    std::shared_ptr<const core::Quote> quote_;
    std::string currency_ = "USD";
    Rows rows_ = Rows::Years;
};

} // namespace milehold::ui
