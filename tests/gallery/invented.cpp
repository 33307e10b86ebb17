// SPDX-License-Identifier: GPL-3.0-or-later
#include "core/survival/counts.h"
#include "core/survival/curve.h"
#include "tests/gallery/pages.h"

#include <QStringList>

#include <algorithm>
#include <cmath>
#include <random>

namespace milehold::gallery {

ui::CurveData inventedCurves(int series) {
    struct Path {
        const char* name;
        int lives;
        double scale, shape;
    };
    const std::vector<Path> paths = {{"Phasers with chain set", 124, 190'000, 1.6},
                                     {"Phasers only", 86, 95'000, 1.4},
                                     {"Calibration alone", 41, 38'000, 1.1},
                                     {"Oil control valves", 63, 62'000, 1.2},
                                     {"Intake phasers, both banks", 35, 120'000, 1.3},
                                     {"Chain set and tensioner, phasers reused", 22, 80'000, 1.5},
                                     {"Oil change and flush", 18, 22'000, 0.9},
                                     {"Tensioner only", 9, 55'000, 1.2}};
    ui::CurveData data;
    std::mt19937_64 random(20310409);
    std::uniform_real_distribution<double> uniform(1e-9, 1.0);
    for (int k = 0; k < series; ++k) {
        const Path& path = paths[static_cast<std::size_t>(k) % paths.size()];
        core::Lives lives;
        for (int i = 0; i < path.lives; ++i) {
            const double life = path.scale * std::pow(-std::log(uniform(random)), 1 / path.shape);
            const double seen = 110'000 * std::pow(uniform(random), 0.9) + 1'000;
            lives.miles.push_back(std::floor(std::min(life, seen)));
            lives.end.push_back(life <= seen ? core::kCameBack : core::kHolding);
        }
        const auto curve = core::survivalCurve(core::countsOfAll(lives), {});
        if (!curve)
            continue;
        data.series.push_back(ui::curveSeries(*curve, QString::number(k), QString::fromUtf8(path.name), k));
    }
    return data;
}

} // namespace milehold::gallery
