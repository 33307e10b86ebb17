// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include "core/shop/job.h"
#include "core/shop/people.h"
#include "core/shop/settings.h"
#include "core/shop/shelf.h"
#include "core/shop/vehicle.h"

#include <map>
#include <string>

namespace milehold::storage {

/// The fields of a record that hold anything, by their names in the change log, as text: codes, ISO dates,
/// metres, minor units, hundredths of an hour; a list in JSON. For comparing two versions of one record.
using FieldTexts = std::map<std::string, std::string>;

FieldTexts fieldTexts(const core::Job& record);
FieldTexts fieldTexts(const core::Vehicle& record);
FieldTexts fieldTexts(const core::Customer& record);
FieldTexts fieldTexts(const core::Staff& record);
FieldTexts fieldTexts(const core::ShopSettings& record);
FieldTexts fieldTexts(const core::EngineFamily& record);
FieldTexts fieldTexts(const core::RepairPath& record);
FieldTexts fieldTexts(const core::PartNumber& record);
FieldTexts fieldTexts(const core::Calibration& record);
FieldTexts fieldTexts(const core::ShelfNote& record);

} // namespace milehold::storage
