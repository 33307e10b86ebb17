// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include <QScrollArea>

namespace milehold::ui {

/// A page that scrolls where its words need more height than there is. A plain scroll area asks its page how
/// low it may be without knowing how wide it is; wrapped words are then pressed over what stands below them.
class TallPage : public QScrollArea {
public:
    /// `page` has its layout.
    explicit TallPage(QWidget* page, QWidget* parent = nullptr);

protected:
    bool eventFilter(QObject* watched, QEvent* event) override;
    void resizeEvent(QResizeEvent* event) override;

private:
    void giveHeight();
};

} // namespace milehold::ui
