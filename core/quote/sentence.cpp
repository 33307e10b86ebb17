// SPDX-License-Identifier: GPL-3.0-or-later
#include "core/quote/sentence.h"

#include "core/quote/words.h"

#include <cmath>
#include <utility>

namespace milehold::core {

namespace {

/// Writes the parts of a sentence one after the other.
class Writer {
public:
    Writer(const PathQuote& path, const SentenceFacts& facts) : path_(path), facts_(facts) {}

    QuoteSentence write() {
        QuoteSentence said;
        if (path_.strength == QuoteStrength::NoJobs) {
            said.whole = said.spoken = "No repair on this path is recorded for this engine family yet, so "
                                       "nothing can be said of how long it lasts.";
            return said;
        }
        if (path_.lives == 0) {
            said.spoken =
                "Too few to say: " +
                countWords(path_.notFollowed, "repair on this path is", "repairs on this path are") +
                " recorded, but nothing is known of " + (path_.notFollowed == 1 ? "it" : "them") +
                " since delivery. ";
            said.rest = dataDate();
            said.whole = said.spoken + said.rest;
            return said;
        }
        const std::string first = part([this] { head(); });
        const std::string miles = part([this] { followed(); });
        const std::string also = part([this] { alsoCounted(); });
        const std::string chance = part([this] { verdict(); });
        const std::string assumed = part([this] {
            worst();
            pooled();
            projected();
        });
        const std::string own = part([this] { conditional(); });
        const std::string last = part([this] { lastWatched(); }) + dataDate();
        said.whole = first + " (" + miles + "). " + also + chance + assumed + own + last;
        said.spoken = first + ". " + chance + own;
        said.rest = upper(miles) + ". " + also + assumed + last;
        return said;
    }

private:
    std::string distance(double count) const { return distanceWords(count, facts_.options.unit); }
    std::string level() const { return levelWords(facts_.options.level); }
    std::string horizon() const { return distance(static_cast<double>(path_.horizon.at)); }

    std::string horizonInYears() const {
        const double yearly = facts_.yearly.perYear.in(facts_.options.unit);
        if (yearly < 1)
            return horizon();
        const char* whose =
            facts_.yearly.source == YearlySource::ShopDefault ? "the shop's usual " : "this driver's ";
        // To the hundred: to the thousand, two years of it would not be the distance that is spoken of.
        const auto hundreds = std::llround(yearly / 100) * 100;
        const char* unit = facts_.options.unit == DistanceUnit::Miles ? " miles" : " kilometres";
        return horizon() + " (" + timeWords(static_cast<double>(path_.horizon.at) / yearly) + " at " + whose +
               grouped(hundreds) + unit + " a year)";
    }

    std::string limits(const QuotePoint& point) const {
        return level() + " limits " + limitWords(point.lower.value_or(0), point.upper.value_or(1));
    }

    template <class Write> std::string part(const Write& write) {
        text_.clear();
        write();
        return std::exchange(text_, {});
    }

    void head() {
        const bool few = path_.lives < 5;
        const std::string repairs =
            countWords(path_.lives, "repair", "repairs") + " on this path" +
            (path_.elsewhere > 0 ? ", " + grouped(path_.elsewhere) + " of them done elsewhere,"
                                 : std::string());
        if (few)
            text_ += "Too few to say: ";
        if (path_.comebacks == 0)
            text_ += few ? "of " + repairs + " none has come back"
                         : "None of " + repairs + " has come back so far";
        else
            text_ += (few ? "of " : "Of ") + repairs + " " + grouped(path_.comebacks) + " came back";
    }

    void followed() {
        text_ += distance(path_.known) + " known in all; ";
        text_ += path_.pastHorizon == 0 ? "none was" : countWords(path_.pastHorizon, "was", "were");
        text_ += " followed past " + horizon();
    }

    void alsoCounted() {
        if (path_.notFollowed > 0)
            text_ += "Nothing is known of " + grouped(path_.notFollowed) + " more since delivery. ";
        if (path_.datedBySight > 0)
            text_ += countWords(path_.datedBySight, "comeback is", "comebacks are") +
                     " counted where we learned of " + (path_.datedBySight == 1 ? "it" : "them") +
                     ", which may be later than " + (path_.datedBySight == 1 ? "it" : "they") + " began. ";
    }

    /// What may be said at a distance, by one rule: the estimate with its limits; before the first comeback
    /// only the one-sided limit; else the limits alone.
    std::string said(const QuotePoint& at) const {
        if (at.chance)
            return "about " + percentWords(*at.chance) + " are still quiet (" + limits(at) + ")";
        if (at.atLeast)
            return "we can be " + level() + " sure, one-sided, only that at least " +
                   atLeastWords(*at.atLeast) + " are still quiet";
        return "the " + level() + " limits are " + limitWords(at.lower.value_or(0), at.upper.value_or(1));
    }

    void verdict() {
        const QuotePoint& at = path_.horizon;
        const bool few = path_.lives < 5;
        const bool none = at.atLeast.has_value();
        if (few && path_.comebacks == 0) {
            const std::string all = smallNumber(path_.lives);
            text_ += all + " of " + lower(all) + " says almost nothing";
            text_ += at.beyond ? ". " : ": ";
        } else if (none) {
            text_ += path_.comebacks == 0 ? "That is not never: "
                     : facts_.straddling.count > 0
                         ? straddling()
                         : "None came back before " + horizon() + ", which is not never: ";
        }
        if (at.beyond)
            beyond();
        else if (at.chance || none || few)
            text_ += std::string(none ? "at " : "At ") + horizonInYears() + " " + said(at) + ". ";
        else
            text_ += tooFewWatched() + " for an estimate: " + said(at) + ". ";
    }

    /// None was seen to come back by the horizon, but some may have.
    std::string straddling() const {
        const Straddling& some = facts_.straddling;
        return countWords(some.count, "came", "came") + " back somewhere between " +
               grouped(toThousand(some.from)) + " and " + distance(some.to) + ", perhaps before " +
               horizon() + "; counted where " + (some.count == 1 ? "it was" : "they were") + " seen: ";
    }

    void beyond() {
        text_ += "None has been followed as far as " + horizonInYears() + ", so nothing is said about that. ";
        if (const auto& still = facts_.stillWatched)
            text_ += "At " + distance(static_cast<double>(still->at)) + ", " + said(*still) + ". ";
    }

    std::string tooFewWatched() const {
        const auto watched = std::llround(path_.horizon.watched);
        if (watched < 5)
            return "Only " + countWords(watched, "of them was", "of them were") + " watched at " +
                   horizonInYears() + ", too few";
        return "Fewer than 5 were watched somewhere before " + horizonInYears() + ", too few";
    }

    static std::string upper(std::string word) {
        if (!word.empty() && word[0] >= 'a' && word[0] <= 'z')
            word[0] = static_cast<char>(word[0] - 'a' + 'A');
        return word;
    }

    static std::string lower(std::string word) {
        if (!word.empty() && word[0] >= 'A' && word[0] <= 'Z')
            word[0] = static_cast<char>(word[0] - 'A' + 'a');
        return word;
    }

    void worst() {
        const QuotePoint& at = path_.horizon;
        if (!at.worst || path_.unseen <= 0)
            return;
        const std::string said = percentWords(*at.worst);
        if (said == percentWords(at.chance.value_or(1)))
            return; // unseen distance does not matter
        text_ +=
            "If every repair that nobody has checked since had failed right away, it would be " + said + ". ";
    }

    void conditional() {
        if (!path_.alreadyRun)
            return;
        text_ += "This vehicle's own repair has already run " + distance(*path_.alreadyRun) + " quietly";
        const auto& at = path_.conditionalHorizon;
        if (!at || at->beyond) {
            const double ahead = *path_.alreadyRun + static_cast<double>(path_.horizon.at);
            text_ += "; none of the others has been followed as far as " +
                     distance(at ? static_cast<double>(at->at) : ahead) + ". ";
            furthestAhead();
            return;
        }
        text_ += ": of the others that got so far, ";
        const std::string where = distance(static_cast<double>(at->at));
        if (at->chance)
            text_ += "about " + percentWords(*at->chance) + " are still quiet at " + where + " (" +
                     limits(*at) + "). ";
        else if (at->atLeast)
            text_ += "none came back before " + where + ", so " + said(*at) + " there. ";
        else
            text_ += "all that can be said of " + where + " are the " + limits(*at) + ". ";
    }

    /// The furthest mark ahead of this vehicle to which others were followed.
    void furthestAhead() {
        const QuotePoint* furthest = nullptr;
        for (const QuotePoint& point : path_.conditional)
            if (!point.beyond)
                furthest = &point;
        if (furthest != nullptr)
            text_ += "Of the others that got so far, at " + distance(static_cast<double>(furthest->at)) +
                     ", " + said(*furthest) + ". ";
    }

    void pooled() {
        if (!path_.pooled)
            return;
        const PooledFigure& with = *path_.pooled;
        text_ += "Taken together with " + countWords(with.likePaths, "like path", "like paths") +
                 " it is about " + percentWords(with.survival) + " (" + limitWords(with.lower, with.upper) +
                 "); " + percentWords(with.weightFromOthers) + " of that rests on theirs. ";
    }

    void projected() {
        if (!path_.horizon.projected)
            return;
        const ProjectedChance& chance = *path_.horizon.projected;
        text_ += "Projection, not watched: a Weibull life would leave about " + percentWords(chance.chance) +
                 " quiet at " + horizon() + " (" + limitWords(chance.lower, chance.upper) + "). ";
    }

    void lastWatched() { text_ += "The longest watched has run " + distance(path_.longestWatched) + ". "; }

    std::string dataDate() const { return "Records up to " + toIso(facts_.options.dataDate) + "."; }

    const PathQuote& path_;
    const SentenceFacts& facts_;
    std::string text_;
};

} // namespace

QuoteSentence quoteSentence(const PathQuote& path, const SentenceFacts& facts) {
    return Writer(path, facts).write();
}

} // namespace milehold::core
