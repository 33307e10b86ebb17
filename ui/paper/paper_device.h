// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include "ui/counter/page_flow.h"

#include <QPageSize>
#include <QString>

class QIODevice;
class QPrinter;

namespace milehold::ui {

/// Writes the sheets of a flow as a PDF, all as vectors and text. False when the device cannot be written.
bool writePdf(const PageFlow& flow, QPageSize::PageSizeId paper, QIODevice& device, const QString& title);

/// Prints the sheets that the printer was asked for.
bool printSheets(const PageFlow& flow, QPageSize::PageSizeId paper, QPrinter& printer);

} // namespace milehold::ui
