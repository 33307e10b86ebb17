// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include "core/result.h"
#include "ui/bay/job_card.h"

#include <map>
#include <string>
#include <string_view>

namespace milehold::app {

/// A job sheet as it stood between two keystrokes.
struct CardDraft {
    ui::JobCard stored; ///< what the sheet was opened with: the records that the typing started from
    ui::JobCard card;   ///< with everything typed since that is a value
    /// Text that is no value yet ("12/" in a date field), by the field's object name.
    std::map<std::string, std::string> unfinished;
    friend bool operator==(const CardDraft&, const CardDraft&) = default;
};

/// As JSON; cardDraftFromText() gives the same draft back.
std::string toText(const CardDraft& draft);
/// Members that are missing keep their defaults, so that drafts of an older program can still be offered.
/// Errors: Unreadable for text that is not such a draft.
core::Result<CardDraft> cardDraftFromText(std::string_view text);

} // namespace milehold::app
