// SPDX-License-Identifier: GPL-3.0-or-later
#include "app/cli/quote_answer.h"

#include "app/cli/json_writer.h"
#include "app/cli/sheet.h"
#include "core/quantity/money.h"
#include "core/quote/words.h"
#include "core/shop/labels.h"

#include <cmath>

namespace milehold::cli {

using core::PathQuote;
using core::QuotePoint;

namespace {

std::string priceText(std::int64_t minor, const std::string& currency) {
    return core::toDecimal(core::Money{minor}, core::minorDigits(currency)) + " " + currency;
}

void writePoint(JsonWriter& json, const QuotePoint& point) {
    json.field("at", static_cast<double>(point.at));
    json.field("years", point.years > 0 ? std::optional<double>(point.years) : std::nullopt);
    json.field("watched", point.watched);
    json.field("chance", point.chance);
    json.field("lower", point.lower);
    json.field("upper", point.upper);
    json.field("at_least", point.atLeast);
    json.field("worst", point.worst);
    if (point.projected)
        json.object("projected", [&] {
            json.field("chance", point.projected->chance);
            json.field("lower", point.projected->lower);
            json.field("upper", point.projected->upper);
        });
    json.field("few", point.few);
    json.field("beyond", point.beyond);
}

void writePoints(JsonWriter& json, std::string_view key, const std::vector<QuotePoint>& points) {
    json.array(key, [&] {
        for (const QuotePoint& point : points)
            json.object([&] { writePoint(json, point); });
    });
}

void writeWords(JsonWriter& json, std::string_view key, const std::vector<std::string>& words) {
    json.array(key, [&] {
        for (const std::string& word : words)
            json.value(std::string_view(word));
    });
}

/// What stands beside the figures: evidence, cost of a quiet distance, like paths.
void writeBasis(JsonWriter& json, const PathQuote& path) {
    const core::EvidenceFacts& facts = path.evidenceFacts;
    json.object("readings", [&] {
        json.field("best", facts.readings.best);
        json.field("known", facts.readings.known);
        json.field("worst", facts.readings.worst);
    });
    json.field("claim", facts.claim);
    json.field("tipping_share", facts.tipping ? facts.tipping->share : std::nullopt);
    if (path.cost) {
        json.object("cost", [&] {
            json.field("within", path.cost->within);
            json.field("quiet", path.cost->quiet);
            json.field("quiet_lower", path.cost->quietLower);
            json.field("quiet_upper", path.cost->quietUpper);
            json.field("minor_per_thousand", path.cost->each);
            json.field("minor_per_thousand_lower", path.cost->eachLower);
            json.field("minor_per_thousand_upper", path.cost->eachUpper);
        });
    } else {
        json.field("no_cost", path.noCost);
    }
    if (path.pooled)
        json.object("pooled", [&] {
            json.field("chance", path.pooled->survival);
            json.field("lower", path.pooled->lower);
            json.field("upper", path.pooled->upper);
            json.field("weight_from_others", path.pooled->weightFromOthers);
            json.field("like_paths", static_cast<double>(path.pooled->likePaths));
            json.field("like_lives", path.pooled->lives);
            json.field("like_comebacks", path.pooled->comebacks);
        });
}

void writePath(JsonWriter& json, const PathQuote& path, const QuoteFrame& frame) {
    json.field("path", path.name);
    json.field("price_minor", static_cast<double>(path.price.minor));
    json.field("hours", path.hours.hundredths / 100.0);
    json.field("strength", core::toCode(path.strength));
    json.field("lives", static_cast<double>(path.lives));
    json.field("not_followed", static_cast<double>(path.notFollowed));
    json.field("comebacks", static_cast<double>(path.comebacks));
    json.field("past_horizon", static_cast<double>(path.pastHorizon));
    json.field("known", path.known);
    json.field("unseen", path.unseen);
    json.field("evidence", path.evidence);
    json.field("longest_watched", path.longestWatched);
    json.field("median", path.median);
    json.object("horizon", [&] { writePoint(json, path.horizon); });
    writePoints(json, "by_year", path.byYear);
    writePoints(json, "by_mark", path.byMark);
    writeBasis(json, path);
    json.field("already_run", path.alreadyRun);
    writePoints(json, "conditional", path.conditional);
    json.field("sentence", path.sentence);
    writeWords(json, "cautions", path.cautions);
    writeWords(json, "stale", path.stale);
    json.array("jobs", [&] {
        for (const core::JobId& id : path.jobs) {
            const auto number = frame.jobNumbers.find(id);
            if (number != frame.jobNumbers.end())
                json.value(static_cast<double>(number->second));
        }
    });
}

void writeJson(Session& session, const core::Quote& quote, const QuoteFrame& frame) {
    JsonWriter json(session.out);
    json.object([&] {
        json.field("vehicle", frame.vehicle);
        json.field("unit", core::shortName(quote.options.unit));
        json.field("level", quote.options.level);
        json.field("data_date", core::toIso(quote.options.dataDate));
        json.field("currency", frame.currency);
        json.object("yearly", [&] {
            json.field("distance", quote.subject.yearly.perYear.in(quote.options.unit));
            json.field("source", core::toCode(quote.subject.yearly.source));
        });
        json.field("note", quote.note);
        json.array("paths", [&] {
            for (const PathQuote& path : quote.paths)
                json.object([&] { writePath(json, path, frame); });
        });
    });
    session.out += '\n';
}

Sheet pointsOf(const PathQuote& path, const std::string& unit, std::string part, std::string title,
               const std::vector<QuotePoint>& points) {
    Sheet sheet{std::move(title),
                std::move(part),
                {"path", unit, "years", "watched", "chance", "lower", "upper", "at_least", "worst", "remark"},
                {}};
    for (const QuotePoint& point : points) {
        std::string remark = point.beyond ? "beyond the last watched" : point.few ? "few watched" : "";
        if (point.projected)
            remark += "; projection " + core::percentWords(point.projected->chance) + " (" +
                      core::percentWords(point.projected->lower) + " to " +
                      core::percentWords(point.projected->upper) + ")";
        sheet.rows.push_back({path.name, static_cast<double>(point.at),
                              point.years > 0 ? Cell(static_cast<double>(point.years)) : Cell(),
                              point.watched, cellOf(point.chance), cellOf(point.lower), cellOf(point.upper),
                              cellOf(point.atLeast), cellOf(point.worst), remark});
    }
    return sheet;
}

std::vector<Sheet> sheetsOf(const PathQuote& path, const std::string& unit) {
    std::vector<Sheet> sheets;
    sheets.push_back(pointsOf(path, unit, "year", "By this driver's years", path.byYear));
    sheets.push_back(pointsOf(path, unit, "mark", "By distance", path.byMark));
    if (!path.conditional.empty())
        sheets.push_back(pointsOf(path, unit, "given", "Given that it has run so far", path.conditional));
    return sheets;
}

} // namespace

void answerQuote(Session& session, const core::Quote& quote, const QuoteFrame& frame) {
    const std::string unit(core::shortName(quote.options.unit));
    switch (session.format) {
    case Format::Json:
        return writeJson(session, quote, frame);
    case Format::Csv: {
        std::vector<Sheet> sheets;
        for (const PathQuote& path : quote.paths)
            for (Sheet& sheet : sheetsOf(path, unit))
                sheets.push_back(std::move(sheet));
        return appendSheets(session, sheets);
    }
    case Format::Text:
        break;
    }
    session.out += frame.vehicle + ", " +
                   std::to_string(quote.subject.yearly.perYear.whole(quote.options.unit)) + " " + unit +
                   " a year (" + std::string(core::labelOf(quote.subject.yearly.source)) + ")\n";
    if (!quote.note.empty())
        session.out += quote.note + "\n";
    for (const PathQuote& path : quote.paths) {
        session.out += "\n" + path.name + ": " + priceText(path.price.minor, frame.currency) + "\n" +
                       path.sentence + "\n";
        if (const std::string line = core::evidenceLine(path.evidenceFacts); !line.empty())
            session.out += line + "\n";
        if (path.cost && path.cost->each)
            session.out += "Each 1,000 " + unit + " expected quiet within " +
                           std::to_string(path.horizon.at) + " " + unit + ": " +
                           priceText(std::llround(*path.cost->each), frame.currency) + " (" +
                           priceText(std::llround(path.cost->eachLower), frame.currency) + " to " +
                           priceText(std::llround(path.cost->eachUpper), frame.currency) + ")\n";
        if (quote.options.project && !path.notProjected.empty())
            session.out += "No projection: " + path.notProjected + "\n";
        for (const std::string& fact : path.stale)
            session.out += "Wants checking: " + fact + "\n";
        if (path.strength != core::QuoteStrength::NoJobs && path.strength != core::QuoteStrength::TooFew) {
            session.out += '\n';
            appendSheets(session, sheetsOf(path, unit));
        }
    }
}

} // namespace milehold::cli
