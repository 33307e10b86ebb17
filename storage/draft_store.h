// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include "core/quantity/date.h"
#include "core/result.h"

#include <string>
#include <string_view>
#include <vector>

namespace milehold::storage {

class Session;

/// A half-filled form, kept so that a killed program can offer it again.
struct Draft {
    std::string form; ///< which form, and of which record: stable, e.g. `job` or `job/0f6b4c7e-...`
    std::string text; ///< as the form wrote it
    core::Moment savedAt;
    friend bool operator==(const Draft&, const Draft&) = default;
};

class DraftStore {
public:
    explicit DraftStore(Session& session) : session_(session) {}

    /// Newest first.
    core::Result<std::vector<Draft>> list() const;
    /// NotFound when there is none.
    core::Result<Draft> find(std::string_view form) const;
    /// Keeps the text in place of what was kept for this form; on disk when it returns.
    core::Result<void> keep(std::string_view form, std::string_view text);
    /// Forgets it; no error when there is none.
    core::Result<void> drop(std::string_view form);

private:
    Session& session_;
};

} // namespace milehold::storage
