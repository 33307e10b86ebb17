// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include "core/result.h"

#include <cstdint>
#include <optional>
#include <span>
#include <string>
#include <string_view>
#include <vector>

namespace CLI {
class App;
}

namespace milehold::cli {

/// Reads the options of a command one after another and keeps the first thing that is wrong, as
/// `OPTION: what is wrong and what was expected`. What could not be read comes back as 0, nothing or the
/// first word; nobody uses it, because result() is then the failure.
///
///     OptionReader read;
///     request.level = read.share("--level", options.level);
///     request.at = read.mileages("--at", options.at);
///     if (!read.result()) return core::failureOf(read.result());
class OptionReader {
public:
    /// Strictly between 0 and 1.
    double share(std::string_view option, const std::string& text);
    std::vector<double> shares(std::string_view option, const std::string& text);
    /// Any finite number.
    double number(std::string_view option, const std::string& text);
    /// Greater than 0.
    double positive(std::string_view option, const std::string& text);
    /// 0 or more.
    double notNegative(std::string_view option, const std::string& text);
    /// A whole number of at least `least`.
    std::int64_t whole(std::string_view option, const std::string& text, std::int64_t least);
    /// Numbers of 0 or more; none for a blank text.
    std::vector<double> mileages(std::string_view option, const std::string& text);
    /// One of them; empty for a blank text.
    std::optional<double> mileage(std::string_view option, const std::string& text);
    std::vector<std::string> names(std::string_view option, const std::string& text);

    /// What a word stands for.
    template <class Value> struct Word {
        const char* word;
        Value value;
    };
    template <class Value>
    Value oneOf(std::string_view option, const std::string& text, std::span<const Word<Value>> words) {
        std::vector<std::string_view> known;
        for (const Word<Value>& word : words) {
            if (text == word.word)
                return word.value;
            known.emplace_back(word.word);
        }
        unknownWord(option, text, known);
        return words.front().value;
    }

    /// Anything else that is wrong with an option.
    void refuse(std::string_view option, const std::string& what);
    const core::Result<void>& result() const { return result_; }

private:
    template <class Value> Value kept(core::Result<Value> value);
    void unknownWord(std::string_view option, const std::string& text,
                     std::span<const std::string_view> known);

    core::Result<void> result_;
};

/// Adds `--level`, the two-sided level of the limits.
void addLevelOption(CLI::App& command, std::string& level);
/// Adds `--at`, a list of mileages.
void addAtOption(CLI::App& command, std::string& at, const char* what);

} // namespace milehold::cli
