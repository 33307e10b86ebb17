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
    if (rows_ == Rows::Basis)
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

std::vector<OptionModel::Fact> OptionModel::facts() const {
    if (rows_ != Rows::Basis)
        return {Fact::RestsOn, Fact::Cost};
    return {Fact::RestsOn,  Fact::Followed,  Fact::LostSight, Fact::HalfBack,
            Fact::Readings, Fact::LikePaths, Fact::Cost,      Fact::ShelfFacts};
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
    if (!quote_ || quote_->paths.empty() || rows_ == Rows::FromHere || rows_ == Rows::Basis)
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
    return chanceRows() + static_cast<int>(facts().size());
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
        const Fact which = facts()[static_cast<std::size_t>(index.row() - chanceRows())];
        if (role == Qt::DisplayRole)
            return fact(quoted, which);
        return role == Qt::ToolTipRole ? factTip(quoted, which) : QVariant();
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
        return factName(facts()[static_cast<std::size_t>(row - chances)], unit);
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
            lines << withLocalDates(toText(stale));
        return lines.join(QChar(u'\n'));
    }
    default:
        return {};
    }
}

QString OptionModel::factName(Fact fact, core::DistanceUnit unit) {
    switch (fact) {
    case Fact::RestsOn:
        return tr("Rests on");
    case Fact::Cost:
        return tr("Each 1,000 quiet %1").arg(unitSign(unit));
    case Fact::Followed:
        return tr("Followed");
    case Fact::LostSight:
        return tr("Lost sight of");
    case Fact::HalfBack:
        return tr("Half back by");
    case Fact::Readings:
        return tr("Best, known, worst");
    case Fact::LikePaths:
        return tr("With like paths");
    case Fact::ShelfFacts:
        return tr("Facts on the shelf");
    }
    return {};
}

QString OptionModel::costText(const core::PathQuote& path) const {
    if (!path.cost)
        return path.noCost.empty() ? tr("too few to say") : toText(path.noCost);
    const QString low = roundPriceText(path.cost->eachLower, currency_);
    const QString high = roundPriceText(path.cost->eachUpper, currency_);
    if (!path.cost->each)
        return tr("%1 to %2").arg(low, high);
    return tr("%1 (%2 to %3)").arg(roundPriceText(*path.cost->each, currency_), low, high);
}

QString OptionModel::fact(const core::PathQuote& path, Fact fact) const {
    const core::DistanceUnit unit = quote_->options.unit;
    const auto& evidence = path.evidenceFacts.evidence;
    const bool few = path.strength == core::QuoteStrength::TooFew;
    switch (fact) {
    case Fact::LikePaths:
        if (!path.pooled)
            return path.notPooled.empty() ? tr("not needed") : toText(path.notPooled);
        return tr("%1 (%2), %3 theirs")
            .arg(shareText(path.pooled->survival), limitsText(path.pooled->lower, path.pooled->upper),
                 shareText(path.pooled->weightFromOthers));
    case Fact::ShelfFacts:
        return path.stale.empty()       ? tr("checked")
               : path.stale.size() == 1 ? tr("1 wants checking")
                                        : tr("%1 want checking").arg(path.stale.size());
    default:
        break;
    }
    if (path.strength == core::QuoteStrength::NoJobs)
        return fact == Fact::RestsOn ? tr("no repair yet") : QStringLiteral("\u2013");
    switch (fact) {
    case Fact::RestsOn:
        if (path.lives == 0)
            return tr("%1, nothing known of").arg(repairsText(path.notFollowed));
        return path.comebacks == 0
                   ? tr("%1, none back").arg(repairsText(path.lives))
                   : tr("%1, %2 back").arg(repairsText(path.lives), countText(path.comebacks));
    case Fact::Cost:
        return costText(path);
    case Fact::Followed:
        if (!path.evidence)
            return tr("not driven yet");
        return tr("%1 of all %2 driven").arg(shareText(*path.evidence), unitWord(unit));
    case Fact::LostSight:
        return evidence.lostSight == 0 ? tr("none")
                                       : tr("%1 of %2")
                                             .arg(countText(static_cast<double>(evidence.lostSight)),
                                                  countText(static_cast<double>(evidence.lives)));
    case Fact::HalfBack:
        if (few)
            return tr("too few to say");
        if (path.median)
            return distanceText(quotedDistance(*path.median), unit);
        return tr("not by %1").arg(distanceText(quotedDistance(path.longestWatched), unit));
    case Fact::Readings: {
        const core::ThreeReadings& at = path.evidenceFacts.readings;
        if (few || path.evidenceFacts.isFew || !at.best || !at.known || !at.worst)
            return tr("too few to say");
        // Before the first comeback no reading is an estimate.
        const auto said = [](double share) { return share < 1 ? shareText(share) : tr("none back"); };
        return tr("%1, %2, %3 at %4")
            .arg(said(*at.best), said(*at.known), said(*at.worst),
                 distanceText(static_cast<double>(path.horizon.at), unit));
    }
    case Fact::LikePaths:
    case Fact::ShelfFacts:
        break;
    }
    return {};
}

QString OptionModel::factTip(const core::PathQuote& path, Fact fact) const {
    const core::DistanceUnit unit = quote_->options.unit;
    const QString where = distanceText(static_cast<double>(path.horizon.at), unit);
    switch (fact) {
    case Fact::Cost:
        return tr("The price over the quiet %1 that may be expected within %2 (the area under the curve so "
                  "far, "
                  "with limits). What a repair runs after that does not count.")
            .arg(unitWord(unit), where);
    case Fact::Followed:
    case Fact::LostSight:
    case Fact::Readings:
        return toText(core::evidenceLine(path.evidenceFacts));
    case Fact::LikePaths:
        if (!path.pooled)
            break;
        return tr("At %1, with %2 like paths (%3, %4) of the same main work; %5 of the figure is their word.")
            .arg(where, countText(path.pooled->likePaths), repairsText(static_cast<int>(path.pooled->lives)),
                 cameBackText(static_cast<int>(path.pooled->comebacks)),
                 shareText(path.pooled->weightFromOthers));
    case Fact::ShelfFacts: {
        QStringList lines;
        for (const std::string& stale : path.stale)
            lines << withLocalDates(toText(stale));
        return lines.isEmpty() ? this->fact(path, fact) : lines.join(QChar(u'\n'));
    }
    default:
        break;
    }
    return this->fact(path, fact);
}

} // namespace milehold::ui
