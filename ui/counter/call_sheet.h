// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include "ui/counter/call_values.h"
#include "ui/counter/page_flow.h"

#include <QPageSize>

#include <string>
#include <vector>

namespace milehold::ui {

struct CallSheetContent {
    std::vector<CallToMake> calls; ///< in the order of the sheet
    std::string shop;
    core::Date printedOn;
    core::DistanceUnit unit = core::DistanceUnit::Miles;
};

/// Calls to make on paper: whom, what to ask, boxes to tick and lines to write on. Black on white, so that it
/// can be copied; a call never breaks over two sheets.
class CallSheet {
public:
    CallSheet(const CallSheetContent& content, QPageSize::PageSizeId paper);

    const PageFlow& flow() const { return flow_; }
    QPageSize::PageSizeId paper() const { return paper_; }

private:
    void addHead(const CallSheetContent& content);
    void addCall(const CallToMake& call, int number, core::DistanceUnit unit);

    QPageSize::PageSizeId paper_;
    PageFlow flow_;
};

} // namespace milehold::ui
