// SPDX-License-Identifier: GPL-3.0-or-later
#include "ui/counter/option_model.h"

#include "ui/widgets/text.h"
#include "ui/words/amounts.h"
#include "ui/words/chance.h"

#include <algorithm>

namespace milehold::ui {

void OptionModel::setQuote(std::shared_ptr<const core::Quote> quote, const std::string& currency) {
    beginResetModel();
    quote_ = std::move(quote);
    currency_ = currency;
    if (rows_ == Rows::FromHere && !hasFromHere())
        rows_ = Rows::Years;
    endResetModel();
}

void OptionModel::setRows(Rows rows) {
    if (rows == rows_)
        return;
    beginResetModel();
    rows_ = rows;
    endResetModel();
}

bool OptionModel::hasFromHere() const {
    return quote_ && std::any_of(quote_->paths.begin(), quote_->paths.end(),
                                 [](const core::PathQuote& path) { return !path.conditional.empty(); });
}

int OptionModel::chanceRows() const {
    if (!quote_ || quote_->paths.empty())
        return 0;
    std::size_t most = 0;
    for (const core::PathQuote& path : quote_->paths) {
        const auto& points = rows_ == Rows::Years   ? path.byYear
                             : rows_ == Rows::Marks ? path.byMark
                                                    : path.conditional;
        most = std::max(most, points.size());
    }
    return static_cast<int>(most);
}

const core::QuotePoint* OptionModel::point(int row, int column) const {
    const core::PathQuote& quoted = path(column);
    const auto& points = rows_ == Rows::Years   ? quoted.byYear
                         : rows_ == Rows::Marks ? quoted.byMark
                                                : quoted.conditional;
    const auto place = static_cast<std::size_t>(row);
    return place < points.size() ? &points[place] : nullptr;
}

std::optional<std::int64_t> OptionModel::distanceOf(int row) const {
    for (int column = 0; row >= 0 && row < chanceRows() && column < columnCount(); ++column) {
        if (const core::QuotePoint* at = point(row, column))
            return at->at;
    }
    return std::nullopt;
}

int OptionModel::horizonRow() const {
    if (!quote_ || quote_->paths.empty() || rows_ == Rows::FromHere)
        return -1;
    for (int row = 0; row < chanceRows(); ++row) {
        if (distanceOf(row) == quote_->paths.front().horizon.at)
            return row;
    }
    return -1;
}

int OptionModel::rowCount(const QModelIndex& parent) const {
    if (parent.isValid() || !quote_ || quote_->paths.empty())
        return 0;
    return chanceRows() + FactCount;
}

int OptionModel::columnCount(const QModelIndex& parent) const {
    return parent.isValid() || !quote_ ? 0 : static_cast<int>(quote_->paths.size());
}

QVariant OptionModel::data(const QModelIndex& index, int role) const {
    if (!index.isValid())
        return {};
    const core::PathQuote& quoted = path(index.column());
    const bool isFact = index.row() >= chanceRows();
    if (role == FactRole)
        return isFact;
    if (role == HorizonRole)
        return index.row() == horizonRow();
    if (role == Qt::AccessibleTextRole) {
        return tr("%1, %2: %3 %4")
            .arg(toText(quoted.name), rowLabel(index.row(), Qt::DisplayRole),
                 data(index, Qt::DisplayRole).toString(), data(index, UnderRole).toString());
    }
    if (isFact) {
        const auto which = static_cast<Fact>(index.row() - chanceRows());
        if (role == Qt::DisplayRole || role == Qt::ToolTipRole)
            return fact(quoted, which);
        return {};
    }
    const core::QuotePoint* at = point(index.row(), index.column());
    if (!at) {
        if (role == Qt::DisplayRole)
            return QStringLiteral("\u2013");
        if (role == UnderRole)
            return rows_ == Rows::FromHere ? tr("not this vehicle's repair") : QString();
        return role == FaintRole ? QVariant(true) : QVariant();
    }
    const ChanceWords words = chanceAt(*at, quoted);
    switch (role) {
    case Qt::DisplayRole:
        return words.figure;
    case UnderRole:
        return words.under;
    case FaintRole:
        return words.faint;
    case Qt::ToolTipRole:
        return tr("%1 watched at %2. Enter opens the jobs behind it.")
            .arg(countText(at->watched), distanceText(static_cast<double>(at->at), quote_->options.unit));
    default:
        return {};
    }
}

QString OptionModel::rowLabel(int row, int role) const {
    const int chances = chanceRows();
    const core::DistanceUnit unit = quote_->options.unit;
    if (row >= chances) {
        if (role != Qt::DisplayRole)
            return {};
        switch (static_cast<Fact>(row - chances)) {
        case CameBack:
            return tr("Rests on");
        case Evidence:
            return tr("Followed");
        case Half:
            return tr("Half back by");
        case Worst:
            return tr("Worst reading");
        case FactCount:
            break;
        }
        return {};
    }
    const core::QuotePoint* at = nullptr;
    for (int column = 0; column < columnCount() && !at; ++column)
        at = point(row, column);
    if (!at)
        return {};
    const QString where = distanceText(static_cast<double>(at->at), unit);
    if (rows_ != Rows::Years) {
        if (role == Qt::DisplayRole)
            return where;
        return rows_ == Rows::FromHere ? tr("since the repair") : tr("still quiet");
    }
    if (role == Qt::DisplayRole)
        return at->years == 1 ? tr("1 year") : tr("%1 years").arg(at->years);
    return where;
}

QVariant OptionModel::headerData(int section, Qt::Orientation orientation, int role) const {
    if (!quote_)
        return {};
    if (orientation == Qt::Vertical) {
        if (role == Qt::DisplayRole || role == UnderRole)
            return rowLabel(section, role);
        return {};
    }
    const core::PathQuote& quoted = path(section);
    switch (role) {
    case Qt::DisplayRole:
        return toText(quoted.name);
    case UnderRole: {
        const QString price =
            quoted.price.minor > 0 ? priceText(quoted.price, currency_) : tr("no price yet");
        return quoted.hours.hundredths > 0 ? tr("%1 \u00b7 %2").arg(price, hoursText(quoted.hours)) : price;
    }
    case NeedsYouRole:
        return !quoted.stale.empty();
    case Qt::ToolTipRole: {
        QStringList lines{toText(quoted.name)};
        for (const std::string& stale : quoted.stale)
            lines << toText(stale);
        return lines.join(QChar(u'\n'));
    }
    default:
        return {};
    }
}

QString OptionModel::fact(const core::PathQuote& path, Fact fact) const {
    const core::DistanceUnit unit = quote_->options.unit;
    if (path.strength == core::QuoteStrength::NoJobs)
        return fact == CameBack ? tr("no repair yet") : QStringLiteral("\u2013");
    switch (fact) {
    case CameBack:
        return path.comebacks == 0
                   ? tr("%1, none back").arg(repairsText(path.lives))
                   : tr("%1, %2 back").arg(repairsText(path.lives), countText(path.comebacks));
    case Evidence:
        if (!path.evidence)
            return tr("not driven yet");
        return tr("%1 of all %2 driven").arg(shareText(*path.evidence), unitWord(unit));
    case Half:
        if (path.strength == core::QuoteStrength::TooFew)
            return tr("too few to say");
        if (path.median)
            return distanceText(quotedDistance(*path.median), unit);
        return tr("not by %1").arg(distanceText(quotedDistance(path.longestWatched), unit));
    case Worst:
        if (!path.horizon.worst || path.strength == core::QuoteStrength::TooFew)
            return QStringLiteral("\u2013");
        return tr("%1 at %2")
            .arg(shareText(*path.horizon.worst), distanceText(static_cast<double>(path.horizon.at), unit));
    case FactCount:
        break;
    }
    return {};
}

} // namespace milehold::ui
