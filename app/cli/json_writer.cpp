// SPDX-License-Identifier: GPL-3.0-or-later
#include "app/cli/json_writer.h"

#include <nlohmann/json.hpp>

#include <charconv>
#include <cmath>

namespace milehold::cli {

namespace {

void appendText(std::string& out, std::string_view text) {
    out += nlohmann::json(text).dump(-1, ' ', false, nlohmann::json::error_handler_t::replace);
}

} // namespace

void JsonWriter::separate() {
    if (afterKey_)
        afterKey_ = false;
    else if (first_)
        first_ = false;
    else
        out_ += ',';
}

void JsonWriter::name(std::string_view key) {
    separate();
    out_ += '"'; // keys are ours and need no escapes
    out_ += key;
    out_ += "\":";
    afterKey_ = true;
}

void JsonWriter::value(double number) {
    separate();
    if (!std::isfinite(number)) {
        out_ += "null";
        return;
    }
    char text[32];
    const auto end = std::to_chars(text, text + sizeof text, number, std::chars_format::general, 17).ptr;
    out_.append(text, end);
}

void JsonWriter::value(std::optional<double> number) {
    if (number) {
        value(*number);
        return;
    }
    separate();
    out_ += "null";
}

void JsonWriter::value(std::string_view text) {
    separate();
    appendText(out_, text);
}

} // namespace milehold::cli
