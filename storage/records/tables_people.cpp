// SPDX-License-Identifier: GPL-3.0-or-later
#include "core/shop/people.h"
#include "core/shop/search_key.h"
#include "core/shop/vehicle.h"
#include "core/shop/vin.h"
#include "storage/database/text.h"
#include "storage/records/record_table.h"

namespace milehold::storage {

using core::Customer;
using core::Staff;
using core::Vehicle;

namespace {

/// Enough of a number's end to find it whatever stands before it: country and trunk prefixes differ.
constexpr std::size_t kLastDigits = 7;
std::string lastDigits(const std::string& digits) {
    return digits.size() <= kLastDigits ? digits : digits.substr(digits.size() - kLastDigits);
}

} // namespace

template <> const RecordTable<Staff>& recordTable() {
    static const RecordTable<Staff> kTable{
        "staff",
        {column<Staff, &Staff::name>("name"), column<Staff, &Staff::technician>("technician"),
         column<Staff, &Staff::advisor>("advisor"), column<Staff, &Staff::owner>("owner"),
         column<Staff, &Staff::active>("active")}};
    return kTable;
}

template <> const RecordTable<Customer>& recordTable() {
    static const RecordTable<Customer> kTable = [] {
        ListTable<Customer> phones{
            .field = "phones",
            .table = "customer_phone",
            .owner = "customer_id",
            .columns = {"phone", "digits", "last_digits"},
            .readColumns = 1,
            .get =
                [](const Customer& customer) {
                    std::vector<std::vector<Value>> rows;
                    for (const auto& phone : customer.phones) {
                        const auto digits = core::phoneKey(phone);
                        rows.push_back({textValue(phone), textValue(digits), textValue(lastDigits(digits))});
                    }
                    return rows;
                },
            .add =
                [](Customer& customer, const std::vector<Value>& row) {
                    return decode(row[0], customer.phones.emplace_back());
                },
            .personal = true};
        auto emails =
            textList<Customer, &Customer::emails>("emails", "customer_email", "customer_id", "email");
        emails.personal = true;
        ListTable<Customer> words{.field = "words",
                                  .table = "customer_word",
                                  .owner = "customer_id",
                                  .columns = {"word"},
                                  .readColumns = 0,
                                  .get = [](const Customer& customer) {
                                      std::vector<std::vector<Value>> rows;
                                      for (auto& word : foldedWords(customer.name)) {
                                          rows.push_back({textValue(std::move(word))});
                                      }
                                      return rows;
                                  }};
        return RecordTable<Customer>{"customer",
                                     {personalColumn<Customer, &Customer::name>("name"),
                                      personalColumn<Customer, &Customer::bestTime>("best_time"),
                                      column<Customer, &Customer::doNotCall>("do_not_call"),
                                      personalColumn<Customer, &Customer::note>("note")},
                                     {phones, emails, words}};
    }();
    return kTable;
}

template <> const RecordTable<Vehicle>& recordTable() {
    static const RecordTable<Vehicle> kTable{
        "vehicle",
        {personalColumn<Vehicle, &Vehicle::vin>("vin"),
         {"vin_tail", [](const Vehicle& vehicle) { return textValue(core::vinSearchKey(vehicle.vin)); }},
         personalColumn<Vehicle, &Vehicle::plate>("plate"),
         {"plate_key", [](const Vehicle& vehicle) { return textValue(codeKey(vehicle.plate)); }},
         column<Vehicle, &Vehicle::maker>("maker"),
         column<Vehicle, &Vehicle::model>("model"),
         column<Vehicle, &Vehicle::modelYear>("model_year"),
         column<Vehicle, &Vehicle::family>("family_id"),
         column<Vehicle, &Vehicle::customer>("customer_id"),
         personalColumn<Vehicle, &Vehicle::note>("note")}};
    return kTable;
}

} // namespace milehold::storage
