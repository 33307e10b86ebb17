// SPDX-License-Identifier: GPL-3.0-or-later
#include "ui/widgets/tall_page.h"

#include <QEvent>
#include <QLayout>

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
    const int wanted =
        layout->hasHeightForWidth() ? layout->totalMinimumHeightForWidth(viewport()->width()) : 0;
    if (wanted != widget()->minimumHeight())
        widget()->setMinimumHeight(wanted);
}

} // namespace milehold::ui
