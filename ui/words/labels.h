// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include "core/shop/labels.h"

#include <QCoreApplication>
#include <QString>

#include <string>

namespace milehold::ui {

/// The label of an enum's value in the window's language: `Start-up rattle`.
template <class E> QString word(E value) {
    const std::string english(core::labelOf(value));
    return QCoreApplication::translate("Labels", english.c_str());
}

} // namespace milehold::ui
