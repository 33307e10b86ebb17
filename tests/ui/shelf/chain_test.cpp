// SPDX-License-Identifier: GPL-3.0-or-later
// How a chain is drawn is ours: common practice, no published source.
#include "tests/ui/shelf/shelf_fixture.h"
#include "ui/shelf/chain.h"
#include "ui/shelf/chain_view.h"

#include <QTest>

#include <gtest/gtest.h>

#include <algorithm>

namespace milehold::tests {
namespace {

using ui::Chain;
using ui::ChainLink;

const ChainLink& linkOf(const Chain& chain, std::uint8_t n) {
    return *std::find_if(chain.links.begin(), chain.links.end(),
                         [&](const ChainLink& l) { return l.id == uuid(n); });
}

TEST(Chain, RunsFromTheOldestRevisionToTheCurrentOne) {
    const auto all = smallShelf();
    const Chain chain = ui::chainOf(all.shelf.parts[kOldPhaser], all.shelf);
    ASSERT_EQ(chain.links.size(), 2U); // the valve is in no line with it
    EXPECT_EQ(chain.links[0].name, QStringLiteral("LP-4410 A"));
    EXPECT_TRUE(chain.links[0].here);
    EXPECT_FALSE(chain.links[0].current);
    EXPECT_EQ(chain.links[0].column, 0);
    EXPECT_TRUE(chain.links[1].current);
    EXPECT_EQ(chain.links[1].column, 1);
    EXPECT_EQ(chain.arrows, (std::vector<std::pair<std::size_t, std::size_t>>{{0, 1}}));
}

TEST(Chain, PutsTwoPartsThatOneSupersedesBelowEachOther) {
    auto all = smallShelf();
    all.shelf.parts[kValve].supersededBy = all.shelf.parts[kNewPhaser].id;
    const Chain chain = ui::chainOf(all.shelf.parts[kNewPhaser], all.shelf);
    ASSERT_EQ(chain.links.size(), 3U);
    EXPECT_EQ(chain.rows, 2);
    EXPECT_EQ(chain.columns, 2);
    EXPECT_NE(linkOf(chain, 11).row, linkOf(chain, 13).row);
}

TEST(Chain, ShowsWhatIsTypedNotWhatIsStored) {
    const auto all = smallShelf();
    core::PartNumber typed = all.shelf.parts[kOldPhaser];
    typed.supersededBy = all.shelf.parts[kValve].id;
    const Chain chain = ui::chainOf(typed, all.shelf);
    ASSERT_EQ(chain.links.size(), 2U);
    EXPECT_TRUE(linkOf(chain, 13).current);
}

TEST(Chain, EndsEvenWhenTheStoredSuccessionRunsInACircle) {
    auto all = smallShelf();
    all.shelf.parts[kNewPhaser].supersededBy = all.shelf.parts[kOldPhaser].id;
    EXPECT_EQ(ui::chainOf(all.shelf.parts[kOldPhaser], all.shelf).links.size(), 2U);
}

TEST(Chain, ForksWhereTwoCalibrationsFollowOne) {
    auto all = smallShelf();
    core::Calibration third = all.shelf.calibrations[1];
    third.id.uuid = uuid(23);
    third.code = "T6K-0130X";
    third.releasedOn = day(2028, 1, 1);
    all.shelf.calibrations.push_back(third);
    const Chain chain = ui::chainOf(all.shelf.calibrations[0], all.shelf);
    EXPECT_EQ(chain.columns, 2);
    EXPECT_EQ(chain.rows, 2);
    EXPECT_TRUE(linkOf(chain, 22).current);
    EXPECT_TRUE(linkOf(chain, 23).current);
}

TEST(ChainView, OpensALinkByKeysAndNeverTheOneThatIsOpen) {
    const auto all = smallShelf();
    ui::ChainView view;
    view.resize(600, 60);
    view.setChain(ui::chainOf(all.shelf.parts[kOldPhaser], all.shelf));
    view.show();
    std::vector<core::Uuid> wanted;
    QObject::connect(&view, &ui::ChainView::linkWanted, [&](const core::Uuid& id) { wanted.push_back(id); });
    QTest::keyClick(&view, Qt::Key_Return);
    EXPECT_TRUE(wanted.empty());
    QTest::keyClick(&view, Qt::Key_Right);
    QTest::keyClick(&view, Qt::Key_Return);
    ASSERT_EQ(wanted.size(), 1U);
    EXPECT_EQ(wanted[0], uuid(12));
    QTest::keyClick(&view, Qt::Key_Left);
    QTest::keyClick(&view, Qt::Key_Space);
    EXPECT_EQ(wanted.size(), 1U);
}

} // namespace
} // namespace milehold::tests
