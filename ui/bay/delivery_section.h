// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include "ui/bay/job_section.h"

namespace milehold::ui {

class DecimalField;
class Segmented;

/// The cold start before delivery.
class DeliverySection : public JobSection {
    Q_OBJECT
public:
    explicit DeliverySection(QWidget* parent = nullptr);

    void setContext(const BayContext&) override {}
    void showJob(const core::Job& job) override;
    void readInto(core::Job& job) const override;

private:
    FormGrid* grid_;
    Segmented* check_;
    DecimalField* soak_;
    DecimalField* rattle_;
};

} // namespace milehold::ui
