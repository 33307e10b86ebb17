// SPDX-License-Identifier: GPL-3.0-or-later
#include "core/shop/finding_list.h"

#include "core/shop/names.h"

#include <algorithm>
#include <vector>

namespace milehold::core {

void FindingList::add(std::string field, Severity severity, std::string message) {
    findings_.push_back({std::move(field), severity, std::move(message)});
}

void FindingList::add(const Findings& findings) {
    findings_.insert(findings_.end(), findings.begin(), findings.end());
}

void FindingList::needText(std::string field, std::string_view text, std::string message) {
    if (isBlank(text))
        error(std::move(field), std::move(message));
}

void FindingList::checkFreshness(const Freshness& freshness) {
    if (freshness.checkedOn && !freshness.checkedOn->ok())
        error("freshness.checkedOn", "The day of the check is not a date.");
    if (freshness.checkAgainBy && !freshness.checkAgainBy->ok())
        error("freshness.checkAgainBy", "The day of the next check is not a date.");
    else if (freshness.checkedOn && freshness.checkAgainBy && *freshness.checkAgainBy < *freshness.checkedOn)
        error("freshness.checkAgainBy", "The next check is due before the last one was made.");
}

void FindingList::checkYears(const std::string& field, std::optional<int> from, std::optional<int> to) {
    for (const auto year : {from, to})
        if (year && (*year < kFirstModelYear || *year > kLastModelYear))
            error(field,
                  std::to_string(*year) + " is not a model year: four figures were expected, such as 2018.");
    if (from && to && *to < *from)
        error(field, "The model years end before they begin.");
}

void FindingList::checkPartEntry(std::size_t index, PartNumberId id, int quantity, const Shelf& shelf) {
    const PartNumber* part = shelf.find(id);
    if (part == nullptr)
        error(entryField("parts", index, "part"),
              id.isNull() ? "Choose the part, or remove its row." : "This part is not on the shelf.");
    else if (const PartNumber* newest = shelf.find(newestOf(shelf, part->id)); newest->id != part->id)
        warning(entryField("parts", index, "part"),
                partLabel(*part) + " is superseded by " + partLabel(*newest) + ".");
    if (quantity < 1)
        error(entryField("parts", index, "quantity"), "The quantity is 1 or more.");
}

Findings FindingList::take() {
    std::vector<std::string> order;
    const auto rankOf = [&](const std::string& field) {
        return std::find(order.begin(), order.end(), field) - order.begin();
    };
    for (const auto& finding : findings_)
        if (static_cast<std::size_t>(rankOf(finding.field)) == order.size())
            order.push_back(finding.field);
    std::stable_sort(findings_.begin(), findings_.end(), [&](const Finding& a, const Finding& b) {
        const auto rankA = rankOf(a.field);
        const auto rankB = rankOf(b.field);
        return rankA != rankB ? rankA < rankB : a.severity > b.severity;
    });
    return std::move(findings_);
}

bool isBlank(std::string_view text) {
    return text.find_first_not_of(" \t\r\n\v\f") == std::string_view::npos;
}

std::string entryField(std::string_view list, std::size_t index, std::string_view member) {
    std::string field(list);
    field += "[" + std::to_string(index) + "]";
    if (!member.empty())
        (field += ".") += member;
    return field;
}

} // namespace milehold::core
