// SPDX-License-Identifier: GPL-3.0-or-later
#include "core/quote/evidence_facts.h"

#include "core/quote/words.h"

#include <algorithm>
#include <cmath>

namespace milehold::core {

namespace {

/// The whole tenth below what is said, as `9 in 10` is how people say it.
std::optional<double> claimOf(const QuotePoint& at) {
    if (at.few || at.beyond)
        return std::nullopt;
    const auto said = at.chance ? at.chance : at.atLeast;
    if (!said)
        return std::nullopt;
    const double tenths = std::floor(*said * 10 + 1e-9);
    if (tenths < 1)
        return std::nullopt;
    return std::min(tenths, 9.0) / 10;
}

std::string followed(const EvidenceFacts& facts) {
    const Evidence& evidence = facts.evidence;
    const std::string unit = facts.unit == DistanceUnit::Miles ? "miles" : "kilometres";
    std::string text = "Followed for ";
    text += evidence.completeness ? percentWords(*evidence.completeness) : std::string("none");
    text += " of all " + unit + " driven since these repairs: ";
    text += distanceWords(evidence.known, facts.unit) + " known";
    const double unseen = evidence.unseen.all();
    text += unseen > 0 ? ", " + distanceWords(unseen, facts.unit) + " that nobody has checked."
                       : ", none unseen.";
    return text;
}

std::string lost(const Evidence& evidence) {
    std::string reasons;
    const auto add = [&](std::size_t count, const char* reason) {
        if (count == 0)
            return;
        reasons += (reasons.empty() ? "" : ", ") + grouped(static_cast<std::int64_t>(count)) + reason;
    };
    add(evidence.noContact, " without contact");
    add(evidence.sold, " sold");
    add(evidence.doNotCall, " not to be called");
    return "Lost sight of " + grouped(static_cast<std::int64_t>(evidence.lostSight)) + " of " +
           grouped(static_cast<std::int64_t>(evidence.lives)) + ": " + reasons + ".";
}

std::string readings(const EvidenceFacts& facts) {
    const auto said = [](const std::optional<double>& share) {
        // An estimate of all would read as never, here too.
        return !share        ? std::string("not watched")
               : *share >= 1 ? std::string("none back")
                             : percentWords(*share);
    };
    return "At " + distanceWords(facts.horizon, facts.unit) + " best " + said(facts.readings.best) +
           ", known " + said(facts.readings.known) + ", worst " + said(facts.readings.worst) +
           " (unseen taken as quiet, not counted, failed).";
}

std::string tipping(const EvidenceFacts& facts) {
    const TippingPoint& point = *facts.tipping;
    const std::string claim = "That at least " + std::to_string(std::lround(*facts.claim * 10)) +
                              " in 10 are quiet at " + distanceWords(facts.horizon, facts.unit) + " ";
    const auto lives = static_cast<std::int64_t>(point.unseenLives);
    const std::string unchecked = countWords(lives, "unchecked repair", "unchecked repairs");
    switch (point.verdict) {
    case TippingPoint::Verdict::Falls:
        if (lives == 1)
            return claim + "falls when the one unchecked repair has failed right away.";
        return claim + "falls when " + percentWords(*point.share) + " of the " + unchecked +
               " have failed right away.";
    case TippingPoint::Verdict::HoldsAnyway:
        return claim + "holds even if " + (lives == 1 ? "the one" : "all of the") + " " +
               (lives == 1 ? "unchecked repair has" : unchecked + " have") + " failed right away.";
    case TippingPoint::Verdict::FailsAnyway:
        return claim + "does not hold even if no unchecked repair has failed.";
    case TippingPoint::Verdict::NothingUnseen:
        break;
    }
    return claim + "rests on what is known alone.";
}

} // namespace

Result<EvidenceFacts> evidenceFacts(std::span<const Life> lives, DistanceUnit unit, double horizon,
                                    const QuotePoint& at) {
    return evidenceFacts(sumsOf(marksOf(lives), unit), horizon, at);
}

Result<EvidenceFacts> evidenceFacts(const LifeSums& sums, double horizon, const QuotePoint& at) {
    EvidenceFacts facts;
    facts.unit = sums.unit;
    facts.horizon = horizon;
    facts.evidence = sums.evidence;
    if (facts.evidence.contributing == 0 || horizon <= 0)
        return facts;
    facts.readings = readingsAt(sums, horizon);
    facts.isFew = at.few || at.beyond;
    facts.claim = claimOf(at);
    if (!facts.claim || facts.evidence.unseen.all() <= 0)
        return facts;
    const auto point = tippingPoint(sums, *facts.claim, Distance::from(std::llround(horizon), sums.unit));
    if (point)
        facts.tipping = *point;
    else if (point.error().code != ErrorCode::NotEstimable)
        return failureOf(point);
    return facts;
}

std::vector<std::string> evidenceSentences(const EvidenceFacts& facts) {
    std::vector<std::string> said;
    if (facts.evidence.lives == 0)
        return said;
    said.push_back(followed(facts));
    if (facts.evidence.lostSight > 0)
        said.push_back(lost(facts.evidence));
    // Where too few are watched for an estimate, a reading is none, either.
    if (facts.evidence.followed < 5 || facts.isFew || facts.evidence.unseen.all() <= 0 ||
        !facts.readings.known)
        return said;
    said.push_back(readings(facts));
    if (facts.tipping && facts.claim)
        said.push_back(tipping(facts));
    return said;
}

std::string evidenceLine(const EvidenceFacts& facts) {
    std::string line;
    for (const std::string& sentence : evidenceSentences(facts))
        line += (line.empty() ? "" : " ") + sentence;
    return line;
}

} // namespace milehold::core
