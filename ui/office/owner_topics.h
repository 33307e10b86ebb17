// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include "core/quote/quote_check.h"
#include "core/report/claims.h"
#include "core/report/owner_review.h"
#include "core/report/owners_report.h"
#include "ui/office/office_view.h"
#include "ui/office/owner_page.h"

#include <span>
#include <string>

namespace milehold::ui {

/// What the owner can look at, in the order of the choices over the room.
enum class OwnerTopic {
    Curves,
    Comebacks,
    Warranty,
    EarlyWarning,
    People,
    Factors,
    Evidence,
    Quotes,
    Report
};
QStringList ownerTopicNames();

/// The pages, in words and charts; every mark knows the jobs behind it. A failure (too few to say) becomes
/// its own sentence.
OwnerPageData comebacksPage(const core::ComebackReview& review, std::span<const core::ClaimRow> claims,
                            core::Date today, const std::string& currency);
/// `labour`, `parts` ...: what a comeback's cost is made of before credits.
QStringList costKindNames();
/// `05/30/2031, in 14 days`: the deadline with what it means today.
QString deadlineText(const core::ClaimRow& claim, core::Date today);
OwnerPageData warrantyPage(const core::Result<core::WarrantyReview>& review, core::DistanceUnit unit,
                           const std::string& currency);
OwnerPageData earlyWarningPage(const core::Result<std::vector<core::WatchedPart>>& parts,
                               const core::Result<std::vector<core::WatchedPart>>& lots);
OwnerPageData peoplePage(const core::Result<core::FunnelReview>& people,
                         const core::Result<core::FunnelReview>& suppliers);
OwnerPageData factorsPage(const core::Result<core::FactorReview>& factors);
OwnerPageData evidencePage(const OfficeView& view);
OwnerPageData quotesPage(const core::Result<core::QuoteCheck>& checked);
/// A core's reason as a page of its own.
OwnerPageData onlyReason(const core::Error& error);
/// The months that a report can be asked for, newest first.
OwnerPageData reportPage(core::Date today);
std::chrono::year_month reportMonth(core::Date today, int choice);

} // namespace milehold::ui
