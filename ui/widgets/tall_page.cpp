// SPDX-License-Identifier: GPL-3.0-or-later
#include "ui/widgets/tall_page.h"

#include <QEvent>
#include <QLayout>
#include <QScrollBar>

namespace milehold::ui {

TallPage::TallPage(QWidget* page, QWidget* parent) : QScrollArea(parent) {
    setWidget(page);
    setWidgetResizable(true);
    setFrameShape(QFrame::NoFrame);
    setHorizontalScrollBarPolicy(Qt::ScrollBarAlwaysOff);
    setFocusPolicy(Qt::NoFocus);
}

bool TallPage::eventFilter(QObject* watched, QEvent* event) {
    if (watched == widget() && event->type() == QEvent::LayoutRequest)
        giveHeight();
    return QScrollArea::eventFilter(watched, event);
}

void TallPage::resizeEvent(QResizeEvent* event) {
    QScrollArea::resizeEvent(event);
    giveHeight();
}

void TallPage::giveHeight() {
    const QLayout* layout = widget() ? widget()->layout() : nullptr;
    if (!layout)
        return;
    const auto heightFor = [layout](int width) {
        return layout->hasHeightForWidth() ? layout->totalMinimumHeightForWidth(width) : 0;
    };
    // By the whole width first: beside a scroll bar words wrap sooner, and the bar would keep itself.
    int wanted = heightFor(contentsRect().width());
    if (wanted > contentsRect().height())
        wanted = heightFor(contentsRect().width() - verticalScrollBar()->sizeHint().width());
    if (wanted != widget()->minimumHeight())
        widget()->setMinimumHeight(wanted);
}

} // namespace milehold::ui
