// SPDX-License-Identifier: GPL-3.0-or-later
#include "core/shop/warranty_words.h"

#include <algorithm>
#include <array>
#include <cmath>
#include <cstdlib>
#include <utility>

namespace milehold::core {

namespace {

constexpr double kMostRead = 1e8; // more is a telephone number, and no warranty

bool isDigit(char c) {
    return c >= '0' && c <= '9';
}
bool isLetter(char c) {
    return c >= 'a' && c <= 'z';
}

/// Small letters, and a plain space for each of the spaces that do not break.
std::string plain(std::string_view text) {
    std::string made;
    for (std::size_t i = 0; i < text.size(); ++i) {
        if (text.substr(i, 2) == "\u00a0") {
            made += ' ';
            i += 1;
        } else if (text.substr(i, 3) == "\u202f") {
            made += ' ';
            i += 2;
        } else {
            made += text[i] >= 'A' && text[i] <= 'Z' ? static_cast<char>(text[i] - 'A' + 'a') : text[i];
        }
    }
    return made;
}

class Reader {
public:
    explicit Reader(std::string_view text) : text_(plain(text)) {}

    WarrantyWords read() {
        while (at_ < text_.size()) {
            const std::size_t from = at_;
            double number = 0;
            if (readDigits(number) || readName(number))
                readUnit(from, number);
            else
                passWord();
        }
        return std::move(found_);
    }

private:
    char charAt(std::size_t place) const { return place < text_.size() ? text_[place] : '\0'; }

    bool threeDigitsAt(std::size_t place) const {
        return isDigit(charAt(place)) && isDigit(charAt(place + 1)) && isDigit(charAt(place + 2)) &&
               !isDigit(charAt(place + 3));
    }

    bool readDigits(double& number) {
        if (!isDigit(charAt(at_)))
            return false;
        const auto take = [&] {
            for (; isDigit(charAt(at_)); ++at_)
                number = std::min(number * 10 + (text_[at_] - '0'), kMostRead);
        };
        take();
        while (std::string_view(",.' ").find(charAt(at_)) != std::string_view::npos && charAt(at_) != '\0' &&
               threeDigitsAt(at_ + 1)) {
            ++at_;
            take();
        }
        if ((charAt(at_) == '.' || charAt(at_) == ',') && isDigit(charAt(at_ + 1))) {
            double place = 0.1;
            for (++at_; isDigit(charAt(at_)); ++at_, place /= 10)
                number += place * (text_[at_] - '0');
        }
        if (charAt(at_) == 'k' && !isLetter(charAt(at_ + 1))) {
            number *= 1000;
            ++at_;
        }
        return true;
    }

    bool readName(double& number) {
        static constexpr std::array<std::pair<std::string_view, int>, 15> kNames = {{{"twenty-four", 24},
                                                                                     {"thirty-six", 36},
                                                                                     {"eighteen", 18},
                                                                                     {"twelve", 12},
                                                                                     {"eleven", 11},
                                                                                     {"ten", 10},
                                                                                     {"nine", 9},
                                                                                     {"eight", 8},
                                                                                     {"seven", 7},
                                                                                     {"six", 6},
                                                                                     {"five", 5},
                                                                                     {"four", 4},
                                                                                     {"three", 3},
                                                                                     {"two", 2},
                                                                                     {"one", 1}}};
        for (const auto& [name, value] : kNames) {
            if (text_.compare(at_, name.size(), name) == 0 && !isLetter(charAt(at_ + name.size()))) {
                at_ += name.size();
                number = value;
                return true;
            }
        }
        return false;
    }

    std::string takeWord() {
        while (charAt(at_) == ' ' || charAt(at_) == '-')
            ++at_;
        std::string word;
        while (isLetter(charAt(at_)))
            word += text_[at_++];
        return word;
    }

    void readUnit(std::size_t from, double number) {
        const std::size_t after = at_;
        std::string word = takeWord();
        if (word == "thousand") {
            number *= 1000;
            word = takeWord();
        }
        number = std::min(number, kMostRead);
        const auto is = [&word](auto... names) { return ((word == names) || ...); };
        const std::string written = text_.substr(from, at_ - from);
        const auto count = static_cast<std::int64_t>(std::llround(number));
        if (is("month", "months", "mo", "mos", "mths"))
            found_.months.push_back({static_cast<int>(count), written});
        else if (is("year", "years", "yr", "yrs"))
            found_.months.push_back({static_cast<int>(std::llround(number * 12)), written});
        else if (is("mile", "miles", "mi"))
            found_.distances.push_back({Distance::miles(count), written});
        else if (is("kilometer", "kilometers", "kilometre", "kilometres", "km", "kms"))
            found_.distances.push_back({Distance::kilometres(count), written});
        else
            at_ = after; // the word may be a number itself
    }

    void passWord() {
        if (!isLetter(charAt(at_)))
            ++at_;
        else
            while (isLetter(charAt(at_)) || isDigit(charAt(at_)))
                ++at_;
    }

    std::string text_;
    std::size_t at_ = 0;
    WarrantyWords found_;
};

/// Whole miles and whole kilometres are rounded.
bool isSame(Distance told, Distance entered) {
    return std::abs(told.metres() - entered.metres()) * 100 <= entered.metres();
}

std::string said(const std::string& written, const std::string& entered) {
    return "The words say \"" + written + "\", but " + entered + "; the customer's page prints both.";
}

} // namespace

WarrantyWords readWarrantyWords(std::string_view text) {
    return Reader(text).read();
}

bool saysItsTerms(const ShopSettings& settings) {
    const WarrantyWords words = readWarrantyWords(settings.warrantyTerms);
    const auto has = [](const auto& amounts, auto equals) {
        return std::any_of(amounts.begin(), amounts.end(),
                           [&](const auto& one) { return equals(one.amount); });
    };
    const auto& months = settings.warrantyMonths;
    const auto& distance = settings.warrantyDistance;
    return (months || distance) &&
           (!months || has(words.months, [&](int told) { return told == *months; })) &&
           (!distance || has(words.distances, [&](Distance told) { return isSame(told, *distance); }));
}

std::string monthsContradicted(const ShopSettings& settings) {
    const auto words = readWarrantyWords(settings.warrantyTerms).months;
    const int entered = settings.warrantyMonths.value_or(0);
    if (words.empty() ||
        std::any_of(words.begin(), words.end(), [entered](const auto& one) { return one.amount == entered; }))
        return {};
    if (entered == 0)
        return settings.warrantyDistance ? said(words.front().asWritten, "no months are entered above") : "";
    return said(words.front().asWritten, entered == 1
                                             ? "1 month is entered above"
                                             : std::to_string(entered) + " months are entered above");
}

std::string distanceContradicted(const ShopSettings& settings) {
    const auto words = readWarrantyWords(settings.warrantyTerms).distances;
    const Distance entered = settings.warrantyDistance.value_or(Distance());
    if (words.empty() ||
        std::any_of(words.begin(), words.end(), [&](const auto& one) { return isSame(one.amount, entered); }))
        return {};
    if (entered == Distance())
        return settings.warrantyMonths ? said(words.front().asWritten, "no distance is entered above") : "";
    return said(words.front().asWritten, "another distance is entered above");
}

} // namespace milehold::core
