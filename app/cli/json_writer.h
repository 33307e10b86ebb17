// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include <cstddef>
#include <optional>
#include <string>
#include <string_view>
#include <vector>

namespace milehold::cli {

/// Writes one JSON value into a text as it goes, with 17 significant digits a number: a curve of a million
/// steps is never held as a tree. A number that is not finite is a defect of the caller's and comes out as
/// null.
///
///     json.object([&] { json.field("rho", 0.0); json.array("groups", [&] { ... json.object([&] { ... }); });
///     });
class JsonWriter {
public:
    explicit JsonWriter(std::string& out) : out_(out) {}

    template <class Body> void object(Body&& body) { nest('{', '}', body); }
    template <class Body> void object(std::string_view key, Body&& body) {
        name(key);
        nest('{', '}', body);
    }
    template <class Body> void array(Body&& body) { nest('[', ']', body); }
    template <class Body> void array(std::string_view key, Body&& body) {
        name(key);
        nest('[', ']', body);
    }

    void field(std::string_view key, double number) {
        name(key);
        value(number);
    }
    void field(std::string_view key, std::optional<double> number) {
        name(key);
        value(number);
    }
    void field(std::string_view key, std::string_view text) {
        name(key);
        value(text);
    }
    void field(std::string_view key, const char* text) { field(key, std::string_view(text)); }
    void field(std::string_view key, bool truth) {
        name(key);
        separate();
        out_ += truth ? "true" : "false";
    }
    void null(std::string_view key) {
        name(key);
        value(std::optional<double>());
    }

    /// Elements of an array.
    void value(double number);
    void value(std::optional<double> number);
    void value(std::string_view text);

private:
    void name(std::string_view key);
    void separate();

    template <class Body> void nest(char open, char close, Body&& body) {
        separate();
        out_ += open;
        first_ = true;
        body();
        out_ += close;
        first_ = false;
    }

    std::string& out_;
    bool first_ = true;     ///< nothing stands yet in the innermost object or array
    bool afterKey_ = false; ///< a value completes a field
};

} // namespace milehold::cli
