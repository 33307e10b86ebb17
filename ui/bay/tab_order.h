// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

class QWidget;

namespace milehold::ui {

/// Makes Tab follow the layouts below `root`, top to bottom and left to right, also through what was added
/// later.
void orderTabs(QWidget* root);

} // namespace milehold::ui
