// SPDX-License-Identifier: GPL-3.0-or-later
#include "ui/bay/job_section.h"

#include "ui/widgets/date_field.h"
#include "ui/widgets/decimal_field.h"
#include "ui/widgets/distance_field.h"
#include "ui/widgets/form_grid.h"

#include <QEvent>

namespace milehold::ui {
namespace {

/// What was expected where the text cannot be read; blank when it can.
QString expectedIn(const QLineEdit* field) {
    if (const auto* date = qobject_cast<const DateField*>(field))
        return date->hasValidText() ? QString() : JobSection::tr("This is not a date.");
    if (const auto* distance = qobject_cast<const DistanceField*>(field))
        return distance->hasValidText() ? QString() : JobSection::tr("A whole number was expected.");
    if (const auto* number = qobject_cast<const DecimalField*>(field)) {
        if (number->hasValidText())
            return {};
        return number->digits() == 0
                   ? JobSection::tr("A whole number was expected.")
                   : JobSection::tr("A number with at most %1 decimals was expected.").arg(number->digits());
    }
    return {};
}

class WheelFilter : public QObject {
public:
    using QObject::QObject;
    bool eventFilter(QObject*, QEvent* event) override {
        if (event->type() != QEvent::Wheel)
            return false;
        event->ignore();
        return true;
    }
};

} // namespace

core::Findings JobSection::setFindings(const core::Findings& findings) {
    return grid_ ? grid_->setFindings(findings) : findings;
}

bool JobSection::focusField(const QString& name) {
    return grid_ && grid_->focusField(name);
}

std::map<std::string, std::string> unfinishedText(const QWidget* root) {
    std::map<std::string, std::string> texts;
    for (const auto* field : root->findChildren<QLineEdit*>())
        if (!expectedIn(field).isEmpty())
            texts[field->objectName().toStdString()] = field->text().toStdString();
    return texts;
}

void restoreUnfinished(QWidget* root, const std::map<std::string, std::string>& texts) {
    for (auto* field : root->findChildren<QLineEdit*>())
        if (const auto found = texts.find(field->objectName().toStdString()); found != texts.end())
            field->setText(QString::fromStdString(found->second));
}

core::Findings unfinishedFindings(const QWidget* root, const std::map<std::string, std::string>& texts) {
    core::Findings findings;
    for (const auto* field : root->findChildren<QLineEdit*>())
        if (texts.contains(field->objectName().toStdString()))
            findings.push_back(
                {field->objectName().toStdString(), core::Severity::Error, expectedIn(field).toStdString()});
    return findings;
}

void ignoreWheel(QWidget* field) {
    field->installEventFilter(new WheelFilter(field));
}

} // namespace milehold::ui
