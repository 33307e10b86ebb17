// SPDX-License-Identifier: GPL-3.0-or-later
// A shop in which only unhappy customers come back, and what calling by the ranked list does to its curve.
// The truth is the table of sample-shop/truth.h. Invented: every call is answered, and a vehicle has run what
// its records say it should have (known and unseen distance together); whether it is quiet there is the
// truth's to say.
#include "core/life/calls.h"
#include "core/life/readings.h"
#include "core/survival/counts.h"
#include "sample-shop/sample_shop.h"
#include "sample-shop/truth.h"

#include <gtest/gtest.h>

#include <cmath>
#include <fstream>
#include <iostream>
#include <sstream>
#include <unordered_map>

namespace milehold::sample {
namespace {

constexpr core::DistanceUnit kUnit = core::DistanceUnit::Miles;
constexpr double kHorizon = 20'000;
constexpr PathKey kPath = PathKey::AllPhasers;

class CalledShop {
public:
    explicit CalledShop(int jobs, std::uint64_t seed = 11) {
        SampleOptions options;
        options.jobs = jobs;
        options.habit = FollowUpHabit::OnlyUnhappy;
        options.seed = seed;
        shop_ = generate(options).value();
        histories_ = histories(shop_);
        for (const LifeTruth& truth : shop_.truth.lives)
            truthOf_.emplace(truth.job, truth);
        for (std::size_t i = 0; i < histories_.size(); ++i)
            placeOf_.emplace(histories_[i].vehicle.id, i);
        derive();
    }

    std::size_t lives() const { return records_.size(); }

    /// Makes the first `count` calls of the list as it is ranked now; returns how many there were.
    std::size_t call(std::size_t count) {
        std::vector<core::CallFacts> facts;
        for (const auto& record : records_) {
            core::CallFacts fact;
            fact.job = record.life.job;
            facts.push_back(fact);
        }
        core::CallOptions options;
        options.today = shop_.endsOn;
        const auto ranked = core::rankCalls(records_, facts, {shop_.shelf, {}}, options).value();
        std::unordered_map<core::JobId, const core::Life*> lifeOf;
        for (const auto& record : records_)
            lifeOf.emplace(record.life.job, &record.life);
        std::size_t made = 0;
        for (const auto& call : ranked) {
            if (made == count)
                break;
            answer(*lifeOf.at(call.job));
            ++made;
        }
        derive();
        return made;
    }

    double truthAt(double miles) const { return shop_.truth.survival(kPath, miles); }
    core::ThreeReadings readingsAt(double miles) const {
        return core::readingCurves(ofPath(), kUnit)->at(miles);
    }
    core::Curve known() const { return core::readingCurves(ofPath(), kUnit)->known; }

private:
    std::vector<core::Life> ofPath() const {
        std::vector<core::Life> lives;
        for (const auto& record : records_)
            if (truthOf_.at(record.life.job).path == kPath)
                lives.push_back(record.life);
        return lives;
    }

    void derive() {
        records_.clear();
        for (const auto& history : histories_) {
            const auto derived = core::deriveLives(history, shop_.settings, shop_.endsOn);
            for (const core::Life& life : *derived) {
                core::LifeRecord record;
                record.life = life;
                record.family = history.vehicle.family;
                records_.push_back(record);
            }
        }
    }

    void answer(const core::Life& life) {
        auto& history = histories_[placeOf_.at(life.vehicle)];
        const core::Job* repair = nullptr;
        for (const auto& job : history.jobs)
            if (job.id == life.job)
                repair = &job;
        const core::Distance out = repair->odometerOut.value_or(*repair->odometerIn);
        const core::Distance now = life.known + life.unseen;
        const auto failed = core::Distance::fromMetres(std::llround(truthOf_.at(life.job).miles * 1609.344));
        core::FollowUp told;
        told.id.uuid.bytes[0] = 0xca;
        ++calls_;
        for (std::size_t i = 0; i < 4; ++i)
            told.id.uuid.bytes[12 + i] = static_cast<std::uint8_t>(calls_ >> (8 * i));
        told.job = life.job;
        told.date = shop_.endsOn;
        told.odometer = out + now;
        told.outcome = failed > now ? core::FollowUpOutcome::Quiet : core::FollowUpOutcome::NoiseBack;
        if (failed <= now)
            told.noiseSince = out + std::max(failed, life.known + core::Distance::fromMetres(1));
        history.followUps.push_back(told);
    }

    SampleShop shop_;
    std::vector<core::VehicleHistory> histories_;
    std::unordered_map<core::JobId, LifeTruth> truthOf_;
    std::unordered_map<core::VehicleId, std::size_t> placeOf_;
    std::vector<core::LifeRecord> records_;
    std::uint32_t calls_ = 0;
};

// The figure of the manual, drawn from the very numbers that are tested here.
class Figure {
public:
    void add(const core::Curve& curve, const char* label, const char* dash, const char* colour,
             double weight) {
        std::ostringstream path;
        path << "M " << x(0) << " " << y(1);
        double end = 0;
        double survival = 1;
        for (std::size_t i = 0; i < curve.size(); ++i) {
            if (curve.miles[i] > kMost)
                break;
            path << " H " << x(curve.miles[i]) << " V " << y(curve.survival[i]);
            survival = curve.survival[i];
            end = curve.miles[i];
        }
        static_cast<void>(end);
        path << " H " << x(kMost);
        line(path.str(), label, dash, colour, weight, survival);
    }
    void addTruth(const CalledShop& shop) {
        std::ostringstream path;
        path << "M " << x(0) << " " << y(shop.truthAt(0));
        for (double miles = 1'000; miles <= kMost; miles += 1'000)
            path << " L " << x(miles) << " " << y(shop.truthAt(miles));
        line(path.str(), "truth", "2 4", "#202020", 2, shop.truthAt(kMost));
    }
    std::string svg() const {
        std::ostringstream out;
        out << "<svg xmlns=\"http://www.w3.org/2000/svg\" width=\"640\" height=\"320\" viewBox=\"0 0 640 "
               "320\" "
               "font-family=\"Inter, sans-serif\" font-size=\"12\" fill=\"#202020\">\n"
               "<title>Only unhappy customers come back: the curve before and after calls</title>\n"
               "<rect width=\"640\" height=\"320\" fill=\"#ffffff\"/>\n";
        for (int share = 0; share <= 100; share += 25)
            out << "<path d=\"M 48 " << y(share / 100.0) << " H 460\" stroke=\"#d8d4cc\"/><text x=\"40\" y=\""
                << y(share / 100.0) + 4 << "\" text-anchor=\"end\">" << share << " %</text>\n";
        for (int miles = 0; miles <= 40'000; miles += 10'000)
            out << "<text x=\"" << x(miles) << "\" y=\"292\" text-anchor=\"middle\">" << miles / 1'000
                << (miles == 0 ? "" : ",000") << "</text>\n";
        out << "<text x=\"254\" y=\"311\" text-anchor=\"middle\">miles since the repair</text>\n"
            << lines_ << "</svg>\n";
        return out.str();
    }

private:
    static constexpr double kMost = 40'000;
    static double round(double value) { return std::round(value * 10) / 10; }
    static double x(double miles) { return round(48 + miles / kMost * 412); }
    static double y(double share) { return round(272 - share * 252); }
    void line(const std::string& path, const char* label, const char* dash, const char* colour, double weight,
              double at) {
        std::ostringstream out;
        out << "<path d=\"" << path << "\" fill=\"none\" stroke=\"" << colour << "\" stroke-width=\""
            << weight << "\" stroke-dasharray=\"" << dash << "\"/>\n";
        double top = y(at) + 4;
        for (const double taken : taken_)
            if (std::fabs(taken - top) < 15)
                top = taken + 15;
        taken_.push_back(top);
        out << "<text x=\"466\" y=\"" << top << "\" fill=\"" << colour << "\">" << label << "</text>\n";
        lines_ += out.str();
    }
    std::string lines_;
    std::vector<double> taken_;
};

TEST(FollowUpLoop, RepairsTheCurveOfAShopInWhichOnlyUnhappyCustomersComeBack) {
    CalledShop shop(4'000);
    const double truth = shop.truthAt(kHorizon);
    const auto before = shop.readingsAt(kHorizon);
    ASSERT_TRUE(before.known && before.worst && before.best);
    // Biased: what is known is far darker than the truth, and the bounds say so.
    EXPECT_LT(*before.known, truth - 0.2);
    EXPECT_LT(*before.worst, truth);
    EXPECT_GT(*before.best, truth - 0.02);

    Figure figure;
    figure.addTruth(shop);
    const core::Curve nobody = shop.known();
    const std::size_t some = shop.call(shop.lives() / 5);
    const auto midway = shop.readingsAt(kHorizon);
    const core::Curve afterSome = shop.known();
    const std::size_t rest = shop.call(shop.lives());
    const auto after = shop.readingsAt(kHorizon);
    figure.add(shop.known(), "known, all called", "1 0", "#0b5d66", 2);
    figure.add(afterSome, "known, 1 in 5 called", "8 4", "#0b5d66", 2);
    figure.add(nobody, "known, nobody called", "1 0", "#a34a00", 2);
    std::cout << "quiet at 20,000 mi: truth " << truth << ", known before " << *before.known << " (worst "
              << *before.worst << ", best " << *before.best << "), after " << some << " calls "
              << midway.known.value_or(-1) << ", after " << some + rest << " calls "
              << after.known.value_or(-1) << "\n";

    // The most telling calls first: one in five brings the known reading more than half of the way.
    ASSERT_TRUE(midway.known && after.known);
    EXPECT_GT(*midway.known, *before.known);
    // All of them: unbiased within chance (0.05 is more than three standard errors of some thousand lives).
    EXPECT_NEAR(*after.known, truth, 0.05);
    ASSERT_TRUE(after.worst && after.best);
    EXPECT_LT(*after.best - *after.worst, 0.5 * (*before.best - *before.worst));

    const std::string drawn = figure.svg();
    const std::string folder = MILEHOLD_BINARY_DIR;
    std::ofstream(folder + "/follow-up-loop.svg") << drawn;
    std::ifstream stored(std::string(MILEHOLD_SOURCE_DIR) + "/resources/manual/follow-up-loop.svg");
    std::ostringstream inManual;
    inManual << stored.rdbuf();
    EXPECT_EQ(inManual.str(), drawn) << "the manual's figure is another one; copy " << folder
                                     << "/follow-up-loop.svg to resources/manual";
}

} // namespace
} // namespace milehold::sample
