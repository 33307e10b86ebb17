// SPDX-License-Identifier: GPL-3.0-or-later
#include "storage/field_texts.h"

#include "storage/records/repository.h"
#include "storage/records/stored.h"

namespace milehold::storage {

namespace {

template <class T> FieldTexts textsOf(const T& record) {
    FieldTexts texts;
    for (const auto& field : differences<T>(nullptr, &record)) {
        if (const auto* number = std::get_if<std::int64_t>(&field.after))
            texts[field.name] = std::to_string(*number);
        else if (const auto* text = std::get_if<std::string>(&field.after))
            texts[field.name] = *text;
    }
    return texts;
}

} // namespace

FieldTexts fieldTexts(const core::Job& record) {
    return textsOf(record);
}
FieldTexts fieldTexts(const core::Vehicle& record) {
    return textsOf(record);
}
FieldTexts fieldTexts(const core::Customer& record) {
    return textsOf(record);
}
FieldTexts fieldTexts(const core::Staff& record) {
    return textsOf(record);
}
FieldTexts fieldTexts(const core::ShopSettings& record) {
    StoredSettings row;
    row.settings = record;
    return textsOf(row);
}
FieldTexts fieldTexts(const core::EngineFamily& record) {
    return textsOf(record);
}
FieldTexts fieldTexts(const core::RepairPath& record) {
    return textsOf(record);
}
FieldTexts fieldTexts(const core::PartNumber& record) {
    return textsOf(record);
}
FieldTexts fieldTexts(const core::Calibration& record) {
    return textsOf(record);
}
FieldTexts fieldTexts(const core::ShelfNote& record) {
    return textsOf(record);
}

} // namespace milehold::storage
