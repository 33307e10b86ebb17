// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include <QFrame>

class QHBoxLayout;
class QLabel;
class QVBoxLayout;

namespace milehold::ui {

/// A sheet on the desk: a title, a note under it, controls at its right, and what you put into body().
class Card : public QFrame {
    Q_OBJECT
public:
    explicit Card(const QString& title = {}, QWidget* parent = nullptr);
    void setTitle(const QString& title);
    void setNote(const QString& note);
    QVBoxLayout* body() const { return body_; }
    void addControl(QWidget* control);
    /// Marks the card that is chosen, or that needs somebody.
    enum class Edge { Plain, Chosen, NeedsYou };
    void setEdge(Edge edge);

protected:
    void paintEvent(QPaintEvent* event) override;

private:
    QWidget* head_;
    QLabel* title_;
    QLabel* note_;
    QHBoxLayout* headRow_;
    QVBoxLayout* body_;
    Edge edge_ = Edge::Plain;
};

/// One number that is the answer, with its unit, what it is and what it rests on.
class BigNumber : public QWidget {
    Q_OBJECT
public:
    explicit BigNumber(const QString& label = {}, QWidget* parent = nullptr);
    void setLabel(const QString& label);
    /// A blank value paints a dash.
    void setValue(const QString& value, const QString& unit = {});
    void setNote(const QString& note);
    QSize sizeHint() const override;
    QSize minimumSizeHint() const override;

protected:
    void paintEvent(QPaintEvent* event) override;

private:
    QString label_, value_, unit_, note_;
};

/// What an empty page says: what to do first.
class EmptyState : public QWidget {
    Q_OBJECT
public:
    EmptyState(const QString& iconName, const QString& title, const QString& text, QWidget* parent = nullptr);
    void setTexts(const QString& title, const QString& text);
    /// Adds the button of the first step.
    void setAction(const QString& text);

signals:
    void actionWanted();

protected:
    void paintEvent(QPaintEvent* event) override;

private:
    QString iconName_;
    QLabel* title_;
    QLabel* text_;
    QVBoxLayout* stack_;
    QWidget* button_ = nullptr;
};

} // namespace milehold::ui
