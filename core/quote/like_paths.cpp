// SPDX-License-Identifier: GPL-3.0-or-later
#include "core/quote/like_paths.h"

#include "core/quote/path_evidence.h"
#include "core/survival/pooling.h"

#include <algorithm>
#include <map>
#include <utility>

namespace milehold::core {

namespace {

using PathOnEngine = std::pair<RepairPathId, EngineFamilyId>;

struct Group {
    std::vector<Life> lives;
    Counts counts;
};

} // namespace

MainWork mainWork(const RepairPath& path, const Shelf& shelf) {
    bool fits[static_cast<std::size_t>(Component::Other) + 1] = {};
    for (const PathPart& fitted : path.parts)
        if (const PartNumber* part = shelf.find(fitted.part))
            fits[static_cast<std::size_t>(part->component)] = true;
    const auto has = [&](Component component) { return fits[static_cast<std::size_t>(component)]; };
    if (has(Component::Phaser))
        return MainWork::Phasers;
    if (has(Component::ChainSet) || has(Component::Tensioner) || has(Component::Guide))
        return MainWork::Chains;
    if (has(Component::OilControlValve))
        return MainWork::Valves;
    return path.calibration && path.parts.empty() ? MainWork::CalibrationAlone : MainWork::Other;
}

Result<PooledFigure> pooledWithLikePaths(std::span<const LifeRecord> lives, const RepairPath& path,
                                         EngineFamilyId family, const Shelf& shelf, DistanceUnit unit,
                                         double miles, double level) {
    const MainWork work = mainWork(path, shelf);
    if (work == MainWork::Other)
        return fail(ErrorCode::NotEstimable, "no like path");
    std::map<RepairPathId, bool> alike;
    for (const RepairPath& other : shelf.paths)
        alike[other.id] = mainWork(other, shelf) == work;
    std::map<PathOnEngine, Group> groups;
    groups[{path.id, family}]; // without a repair of its own it rests on the others alone
    for (const LifeRecord& record : lives) {
        if (!record.life.path || !record.family || !record.life.contributes)
            continue;
        const auto known = alike.find(*record.life.path);
        if (known != alike.end() && known->second)
            groups[{*record.life.path, *record.family}].lives.push_back(record.life);
    }
    PooledFigure figure;
    figure.miles = miles;
    std::vector<Counts> counts;
    std::size_t own = 0;
    double comebacks = 0;
    double watched = 0;
    for (auto& [key, group] : groups) {
        if (key == PathOnEngine{path.id, family})
            own = counts.size();
        counts.push_back(countsOfAll(toColumns(group.lives, unit).lives));
        comebacks += counts.back().allComebacks();
        watched += counts.back().watchedAt(miles);
        if (key == PathOnEngine{path.id, family})
            continue;
        ++figure.likePaths;
        figure.lives += counts.back().lives();
        figure.comebacks += counts.back().allComebacks();
        for (const Life& life : group.lives)
            figure.jobs.push_back(life.job);
    }
    if (figure.likePaths == 0)
        return fail(ErrorCode::NotEstimable, "no like path has a repair yet");
    if (comebacks < kFewest)
        return fail(ErrorCode::NotEstimable, "too few comebacks on the like paths too");
    if (watched < kFewest)
        return fail(ErrorCode::NotEstimable, "too few of the like ones watched so far");
    const auto pooled = pooledRates(counts);
    if (!pooled)
        return failureOf(pooled);
    const PooledSurvival at = pooledSurvival(*pooled, own, miles, level);
    figure.survival = at.survival;
    figure.lower = at.lower;
    figure.upper = at.upper;
    figure.weightFromOthers = pooled->paths[own].weightFromOthers;
    return figure;
}

} // namespace milehold::core
