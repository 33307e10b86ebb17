// SPDX-License-Identifier: GPL-3.0-or-later
#include "ui/counter/call_sheet.h"

#include "ui/counter/call_words.h"
#include "ui/widgets/text.h"
#include "ui/words/amounts.h"

#include <QCoreApplication>
#include <QPainter>

namespace milehold::ui {

namespace {

struct Words {
    Q_DECLARE_TR_FUNCTIONS(CallSheet)
};

constexpr double kMarginPoints = 42;
constexpr double kFootPoints = 24;
constexpr double kLine = 16;
constexpr double kBox = 9;
constexpr int kBoxesARow = 4;

const PageText kBody{10, false, kPaperInk, Qt::AlignLeft};
const PageText kStrong{12, true, kPaperInk, Qt::AlignLeft};
const PageText kPhone{12, true, kPaperInk, Qt::AlignRight};
const PageText kSmall{9, false, kPaperInk, Qt::AlignLeft};
const PageText kSoftRight{9, false, kPaperSoft, Qt::AlignRight};
const PageText kTitle{18, true, kPaperInk, Qt::AlignLeft};

/// A label and a line to write on, from `left` to `right`; `unit` stands at its end.
void blank(QPainter& painter, double left, double right, double top, const QString& label,
           const QString& unit = {}) {
    const double named = PageFlow::textWidth(label, kSmall) + 6;
    const double ends = unit.isEmpty() ? 0 : PageFlow::textWidth(unit, kSmall) + 4;
    PageFlow::drawLine(painter, QRectF(left, top, named, kLine), label, kSmall);
    painter.setPen(QPen(kPaperInk, 0.6));
    painter.drawLine(QPointF(left + named, top + kLine - 3), QPointF(right - ends, top + kLine - 3));
    if (!unit.isEmpty())
        PageFlow::drawLine(painter, QRectF(right - ends + 4, top, ends, kLine), unit, kSmall);
}

void box(QPainter& painter, double left, double top, double width, const QString& label) {
    painter.setPen(QPen(kPaperInk, 0.9));
    painter.setBrush(Qt::NoBrush);
    painter.drawRect(QRectF(left, top + (kLine - kBox) / 2, kBox, kBox));
    PageFlow::drawLine(painter, QRectF(left + kBox + 5, top, width - kBox - 10, kLine), label, kSmall);
}

QString factsOf(const CallToMake& call) {
    QStringList facts{toText(call.vehicle)};
    if (!call.plate.empty())
        facts << toText(call.plate);
    if (!call.path.empty())
        facts << Words::tr("%1 on %2").arg(toText(call.path), dateText(call.repairedOn));
    facts << Words::tr("job %1").arg(call.jobNumber);
    return facts.join(QStringLiteral(" \u00b7 "));
}

} // namespace

CallSheet::CallSheet(const CallSheetContent& content, QPageSize::PageSizeId paper)
    : paper_(paper), flow_(QPageSize::sizePoints(paper), kMarginPoints, kFootPoints) {
    addHead(content);
    int number = 0;
    for (const CallToMake& call : content.calls)
        addCall(call, ++number, content.unit);
    flow_.setFoot([shop = toText(content.shop)](QPainter& painter, const QRectF& rect, int page, int pages) {
        const QString left = Words::tr("%1. Names and phones: keep this sheet in the shop.").arg(shop);
        PageFlow::drawLine(painter, rect.adjusted(0, 0, -90, 0), left, {8, false, kPaperSoft, Qt::AlignLeft});
        PageFlow::drawLine(painter, rect, Words::tr("Page %1 of %2").arg(page).arg(pages),
                           {8, false, kPaperSoft, Qt::AlignRight});
    });
}

void CallSheet::addHead(const CallSheetContent& content) {
    const QString title = Words::tr("Calls to make");
    const QString day = dateText(content.printedOn);
    flow_.add(30, [title, day](QPainter& painter, const QRectF& rect) {
        PageFlow::drawLine(painter, rect.adjusted(0, 0, -300, 0), title, kTitle);
        blank(painter, rect.right() - 290, rect.right() - 110, rect.top() + 8, Words::tr("Called by"));
        PageFlow::drawLine(painter, QRectF(rect.right() - 100, rect.top() + 8, 100, kLine), day,
                           {10, true, kPaperInk, Qt::AlignRight});
    });
    flow_.rule(1.2, kPaperInk);
    flow_.space(4);
}

void CallSheet::addCall(const CallToMake& call, int number, core::DistanceUnit unit) {
    const QString question = callQuestion(call.concern);
    const double asked = PageFlow::textHeight(question, flow_.width(), kSmall);
    const auto boxRows = static_cast<double>((callOutcomes().size() + kBoxesARow - 1) / kBoxesARow);
    const double height = (4 + boxRows) * kLine + asked + 8;
    flow_.add(height, [call, number, unit, question, asked](QPainter& painter, const QRectF& rect) {
        double top = rect.top() + 2;
        const double left = rect.left();
        const double width = rect.width();
        PageFlow::drawLine(painter, QRectF(left, top, width * 0.62, kLine),
                           QStringLiteral("%1.  %2").arg(number).arg(toText(call.customer)), kStrong);
        PageFlow::drawLine(painter, QRectF(left + width * 0.62, top, width * 0.38, kLine),
                           call.phones.empty() ? Words::tr("no phone") : toText(call.phones.front()), kPhone);
        top += kLine;
        const QString best =
            call.bestTime.empty() ? QString() : Words::tr("best: %1").arg(toText(call.bestTime));
        const double right = best.isEmpty() ? 0 : PageFlow::textWidth(best, kSoftRight) + 8;
        PageFlow::drawLine(painter, QRectF(left, top, width - right, kLine), factsOf(call), kSmall);
        PageFlow::drawLine(painter, QRectF(left, top, width, kLine), best, kSoftRight);
        top += kLine;
        PageFlow::drawText(painter, QRectF(left, top, width, asked), question, kSmall);
        top += asked + 2;
        const QString sign = unitSign(unit);
        const QString expected =
            call.odometerNow ? Words::tr("Odometer (about %1)").arg(estimateText(*call.odometerNow, unit))
                             : Words::tr("Odometer");
        blank(painter, left, left + width * 0.46, top, expected, sign);
        blank(painter, left + width * 0.49, left + width * 0.74, top, Words::tr("Noise since"), sign);
        blank(painter, left + width * 0.77, rect.right(), top, Words::tr("Call again"));
        top += kLine;
        const double cell = width / kBoxesARow;
        int place = 0;
        for (const CallOutcome& outcome : callOutcomes()) {
            box(painter, left + cell * (place % kBoxesARow), top, cell, outcome.name());
            if (++place % kBoxesARow == 0)
                top += kLine;
        }
        blank(painter, left, rect.right(), top, Words::tr("Note"));
    });
    flow_.space(4);
    flow_.rule(0.5, kPaperLine);
    flow_.space(4);
}

} // namespace milehold::ui
