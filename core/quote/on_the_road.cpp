// SPDX-License-Identifier: GPL-3.0-or-later
#include "core/quote/on_the_road.h"

namespace milehold::core {

const LifeRecord* runningLife(std::span<const LifeRecord> ofVehicle) {
    const LifeRecord* running = nullptr;
    for (const LifeRecord& record : ofVehicle) {
        const Life& life = record.life;
        const bool holds = life.state == LifeState::Holding || life.state == LifeState::LostSight;
        if (!holds || !life.contributes)
            continue;
        if (running == nullptr || life.repairedOn >= running->life.repairedOn)
            running = &record;
    }
    return running;
}

std::string calibrationNow(const VehicleHistory& history) {
    std::string code;
    Date on{};
    for (const Job& job : history.jobs) {
        if (job.isVoid())
            continue;
        const std::string& read = job.calibrationAfter.empty() ? job.calibrationBefore : job.calibrationAfter;
        if (read.empty() || (on.ok() && job.writtenUp < on))
            continue;
        code = read;
        on = job.writtenUp;
    }
    return code;
}

} // namespace milehold::core
