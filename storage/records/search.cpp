// SPDX-License-Identifier: GPL-3.0-or-later
#include "storage/records/search.h"

#include "core/shop/search_key.h"
#include "storage/database/statement.h"
#include "storage/database/text.h"

#include <algorithm>
#include <charconv>
#include <functional>
#include <string>
#include <unordered_set>

namespace milehold::storage {

namespace {

/// Collects ids from prefix queries until there are enough.
template <class IdType> class Collector {
public:
    Collector(Session& session, std::size_t limit) : session_(session), limit_(limit) {}

    bool isFull() const { return ids_.size() >= limit_; }
    std::vector<IdType> take() { return std::move(ids_); }
    std::size_t size() const { return ids_.size(); }

    /// `sql` selects ids and takes :from and :to, the ends of the prefix, and :most.
    core::Result<void> prefix(std::string_view sql, std::string_view key) {
        if (key.empty())
            return {};
        return run(sql,
                   [&](Statement& select) { select.bindText(":from", key).bindText(":to", prefixEnd(key)); });
    }

    core::Result<void> run(std::string_view sql, const std::function<void(Statement&)>& bind) {
        if (isFull())
            return {};
        Statement select(session_, sql, "search");
        bind(select);
        // Some of these may have been found already: ask for as many as could be needed.
        select.bindInt(":most", static_cast<std::int64_t>(limit_));
        if (auto ran = select.run(); !ran)
            return ran;
        while (!isFull()) {
            const auto more = select.next();
            if (!more)
                return core::failureOf(more);
            if (!*more)
                break;
            const IdType id{select.id(0)};
            if (seen_.insert(id).second)
                ids_.push_back(id);
        }
        return {};
    }

private:
    Session& session_;
    std::size_t limit_;
    std::vector<IdType> ids_;
    std::unordered_set<IdType> seen_;
};

/// Up to three words of a name, each a prefix; the first by the index, the others by looking at that
/// customer.
struct NameWords {
    std::string first;
    std::string second;
    std::string third;
};

NameWords nameWords(std::string_view text) {
    auto words = foldedWords(text);
    // The longest word leaves the fewest customers to look at.
    std::ranges::stable_sort(words, [](const auto& a, const auto& b) { return a.size() > b.size(); });
    words.resize(3);
    return {words[0], words[1], words[2]};
}

void bindWords(Statement& select, const NameWords& words) {
    select.bindText(":from", words.first)
        .bindText(":to", prefixEnd(words.first))
        .bindText(":from2", words.second)
        .bindText(":to2", prefixEnd(words.second))
        .bindText(":from3", words.third)
        .bindText(":to3", prefixEnd(words.third));
}

bool looksLikePhone(std::string_view text) {
    return text.find_first_not_of("0123456789 +-/().") == std::string_view::npos;
}

constexpr std::string_view kByVin =
    "SELECT id FROM vehicle WHERE vin BETWEEN :from AND :to AND vin <> '' ORDER BY vin LIMIT :most";
constexpr std::string_view kByVinTail =
    "SELECT id FROM vehicle WHERE vin_tail BETWEEN :from AND :to ORDER BY vin_tail LIMIT :most";
constexpr std::string_view kByPlate =
    "SELECT id FROM vehicle WHERE plate_key BETWEEN :from AND :to ORDER BY plate_key LIMIT :most";
constexpr std::string_view kByRepairOrder =
    "SELECT vehicle_id FROM job WHERE repair_order_key BETWEEN :from AND :to "
    "AND repair_order_key <> '' ORDER BY repair_order_key LIMIT :most";
constexpr std::string_view kByNumber = "SELECT vehicle_id FROM job WHERE number = :number LIMIT :most";
constexpr std::string_view kByName =
    "SELECT v.id FROM customer_word w JOIN vehicle v ON v.customer_id = w.customer_id "
    "WHERE w.word BETWEEN :from AND :to "
    "AND EXISTS (SELECT 1 FROM customer_word b WHERE b.customer_id = w.customer_id AND b.word BETWEEN :from2 "
    "AND :to2) "
    "AND EXISTS (SELECT 1 FROM customer_word c WHERE c.customer_id = w.customer_id AND c.word BETWEEN :from3 "
    "AND :to3) "
    "ORDER BY w.word LIMIT :most";
constexpr std::string_view kByPhone =
    "SELECT v.id FROM customer_phone p JOIN vehicle v ON v.customer_id = p.customer_id "
    "WHERE p.digits BETWEEN :from AND :to ORDER BY p.digits LIMIT :most";
constexpr std::string_view kByLastDigits =
    "SELECT v.id FROM customer_phone p JOIN vehicle v ON v.customer_id = p.customer_id "
    "WHERE p.last_digits BETWEEN :from AND :to ORDER BY p.last_digits LIMIT :most";
constexpr std::string_view kCustomersByName =
    "SELECT w.customer_id FROM customer_word w WHERE w.word BETWEEN :from AND :to "
    "AND EXISTS (SELECT 1 FROM customer_word b WHERE b.customer_id = w.customer_id AND b.word BETWEEN :from2 "
    "AND :to2) "
    "AND EXISTS (SELECT 1 FROM customer_word c WHERE c.customer_id = w.customer_id AND c.word BETWEEN :from3 "
    "AND :to3) "
    "ORDER BY w.word LIMIT :most";
constexpr std::string_view kCustomersByPhone =
    "SELECT customer_id FROM customer_phone WHERE digits BETWEEN :from AND :to ORDER BY digits LIMIT :most";
constexpr std::string_view kCustomersByLastDigits =
    "SELECT customer_id FROM customer_phone WHERE last_digits BETWEEN :from AND :to ORDER BY last_digits "
    "LIMIT :most";

} // namespace

core::Result<std::vector<FoundVehicle>> searchVehicles(Session& session, std::string_view text,
                                                       std::size_t limit) {
    Collector<core::VehicleId> collector(session, limit);
    const std::string key = codeKey(text);
    const std::string digits = looksLikePhone(text) ? core::phoneKey(text) : std::string();
    const NameWords words = nameWords(text);
    std::int64_t number = 0;
    std::from_chars(key.data(), key.data() + key.size(), number);
    const bool isNumber = !key.empty() && key == digits && key.size() < 18;

    struct Step {
        FoundIn in;
        std::function<core::Result<void>()> run;
    };
    const std::vector<Step> steps = {
        {FoundIn::RepairOrder,
         [&] {
             return isNumber ? collector.run(kByNumber, [&](Statement& s) { s.bindInt(":number", number); })
                             : core::Result<void>();
         }},
        {FoundIn::Vin, [&] { return collector.prefix(kByVinTail, key); }},
        {FoundIn::Vin, [&] { return collector.prefix(kByVin, key); }},
        {FoundIn::Plate, [&] { return collector.prefix(kByPlate, key); }},
        {FoundIn::RepairOrder, [&] { return collector.prefix(kByRepairOrder, key); }},
        {FoundIn::CustomerName,
         [&] {
             return words.first.empty() ? core::Result<void>()
                                        : collector.run(kByName, [&](Statement& s) { bindWords(s, words); });
         }},
        {FoundIn::Phone, [&] { return collector.prefix(kByPhone, digits); }},
        {FoundIn::Phone, [&] { return collector.prefix(kByLastDigits, digits); }}};
    std::vector<FoundIn> where;
    for (const auto& step : steps) {
        if (auto ran = step.run(); !ran)
            return core::failureOf(ran);
        where.resize(collector.size(), step.in);
    }
    std::vector<FoundVehicle> found;
    const auto ids = collector.take();
    found.reserve(ids.size());
    for (std::size_t i = 0; i < ids.size(); ++i)
        found.push_back({ids[i], where[i]});
    return found;
}

core::Result<std::vector<core::CustomerId>> searchCustomers(Session& session, std::string_view text,
                                                            std::size_t limit) {
    Collector<core::CustomerId> collector(session, limit);
    const std::string digits = looksLikePhone(text) ? core::phoneKey(text) : std::string();
    const NameWords words = nameWords(text);
    if (!words.first.empty()) {
        if (auto ran = collector.run(kCustomersByName, [&](Statement& s) { bindWords(s, words); }); !ran) {
            return core::failureOf(ran);
        }
    }
    for (const auto sql : {kCustomersByPhone, kCustomersByLastDigits}) {
        if (auto ran = collector.prefix(sql, digits); !ran)
            return core::failureOf(ran);
    }
    return collector.take();
}

} // namespace milehold::storage
