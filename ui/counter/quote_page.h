// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include "core/shop/settings.h"
#include "ui/counter/counter_values.h"
#include "ui/counter/page_flow.h"

#include <QPageSize>

#include <string>

namespace milehold::ui {

/// What stands on the page for the customer.
struct QuotePageContent {
    core::Quote quote;
    int chosen = 0; ///< the path that the sentence and the chart speak of
    CounterVehicle vehicle;
    std::string engine; ///< the name of the family that was quoted; blank: not known
    core::ShopSettings settings;
};

/// The page for the customer: one layout for preview, PDF and printer. Lengths are points (1/72 inch); black
/// ink on white, nothing told by colour alone.
class QuotePage {
public:
    /// `paper` is A4 or Letter. A quote without paths makes a page that says so.
    QuotePage(const QuotePageContent& content, QPageSize::PageSizeId paper);

    const PageFlow& flow() const { return flow_; }
    QPageSize::PageSizeId paper() const { return paper_; }
    QSizeF pageSize() const { return size_; }

private:
    void addHead(const QuotePageContent& content);
    void addVehicle(const QuotePageContent& content);
    void addSentence(const QuotePageContent& content);
    void addOptions(const QuotePageContent& content);
    void addChart(const QuotePageContent& content);
    void addEvidence(PageFlow& flow, const QuotePageContent& content) const;
    void addNotes(PageFlow& flow, const QuotePageContent& content) const;
    void addFoot(const QuotePageContent& content);

    QPageSize::PageSizeId paper_;
    QSizeF size_;
    PageFlow flow_;
};

} // namespace milehold::ui
