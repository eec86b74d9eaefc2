// Settings in the board's EEPROM: whatever happens while they are written, one of the two sets is there.
//
// A byte takes 3.4 ms to erase and write (data sheet, from memory), which Chip adds to simavr. What a power
// cut leaves of the byte being written is unknown, so it is drawn; all others stay as they are.
#include "firmware/bench.hpp"
#include "firmware/firmware_build.hpp"

#include <boost/crc.hpp>
#include <gtest/gtest.h>
#include <random>

namespace winkhold::testing {
namespace {

// As store.hpp lays them out: version, vehicle hash, settings, timing with the learned on time last, CRC.
constexpr std::size_t copy_at[] = {16, 16 + 128};
constexpr std::size_t copy_size = 1 + 4 + 30 + 10 + 2;
constexpr std::size_t on_prior_at = copy_size - 2 - 3;

using Bytes = std::vector<std::uint8_t>;

std::uint16_t crc_of(const Bytes& eeprom, std::size_t copy) {
    boost::crc_ccitt_type crc;
    crc.process_bytes(eeprom.data() + copy_at[copy], copy_size - 2);
    return crc.checksum();
}
bool is_whole(const Bytes& eeprom, std::size_t copy) {
    const std::uint8_t* const end = eeprom.data() + copy_at[copy] + copy_size;
    return (end[-2] | end[-1] << 8) == crc_of(eeprom, copy);
}
unsigned on_prior_us(const std::uint8_t* copy) {
    return copy[on_prior_at] | copy[on_prior_at + 1] << 8 | copy[on_prior_at + 2] << 16;
}
/// The check value of CRC-16/IBM-3740 (the catalogue of parametrised CRC algorithms, from memory).
TEST(BoardStore, TheTestsOwnCrcHasTheCheckValue) {
    boost::crc_ccitt_type crc;
    crc.process_bytes("123456789", 9);
    EXPECT_EQ(crc.checksum(), 0x29b1);
}

/// The on time that a board works with after power-up with this EEPROM.
unsigned loaded_on_prior_us(const Bytes& eeprom) {
    Chip chip(board_elf(), eeprom);
    chip.run_until(8'000 * cycles_per_us);
    Bytes copy(copy_size);
    static const unsigned store = address_in_board("store");
    for (unsigned i = 0; i < copy_size; ++i)
        copy[i] = static_cast<std::uint8_t>(chip.byte_at(store + i));
    return on_prior_us(copy.data());
}

/// Left is flashed for four seconds and a half, so long lit each time, and let go: worth keeping.
Ride lesson(long long on_us) {
    constexpr unsigned supply = 16, left = 1;
    Ride ride{{20'000, supply}};
    for (long long t_us = 100'000; t_us < 4'600'000; t_us += 2 * on_us) {
        ride.push_back({t_us, supply | left});
        ride.push_back({t_us + on_us, supply});
    }
    return ride;
}

/// A board that has just begun to write what it has learned.
void learn(Bench& bench, long long on_us) {
    bench.play(lesson(on_us));
    while (!bench.chip().eeprom_busy() && bench.now_us() < 8e6)
        bench.run_until_us(bench.now_us() + 1'000);
    ASSERT_TRUE(bench.chip().eeprom_busy()) << "nothing has been learned";
}
Bytes after_lesson(long long on_us) {
    Bench bench(board_elf());
    learn(bench, on_us);
    bench.run_until_us(bench.now_us() + 2 * copy_size * 4'000.0);
    EXPECT_FALSE(bench.chip().eeprom_busy());
    EXPECT_EQ(bench.chip().misuse(), "");
    return bench.chip().eeprom_after_cut(0);
}

TEST(BoardStore, KeepsTheOnTimeInTwoWholeCopies) {
    const Bytes eeprom = after_lesson(353'000);
    for (std::size_t copy : {0, 1}) {
        EXPECT_TRUE(is_whole(eeprom, copy));
        EXPECT_NEAR(on_prior_us(eeprom.data() + copy_at[copy]), 353'000, 2'000);
    }
    EXPECT_EQ(loaded_on_prior_us(eeprom), on_prior_us(eeprom.data() + copy_at[0]));
    EXPECT_EQ(loaded_on_prior_us({}), 0u) << "an erased one says nothing";
}

TEST(BoardStore, WritesOnceAPowerUpAndNotWhatItKnows) {
    Bench again(board_elf(), after_lesson(353'000));
    again.play(lesson(353'000));
    again.run_until_us(5.8e6);
    EXPECT_EQ(again.chip().eeprom_writes(), 0);
    Bench twice(board_elf());
    twice.play(lesson(353'000));
    twice.run_until_us(5.8e6);
    const int once = twice.chip().eeprom_writes();
    EXPECT_GT(once, 0);
    Ride second = lesson(280'000);
    for (TapChange& change : second)
        change.t_us += 5'800'000;
    twice.play(second);
    twice.run_until_us(11.4e6);
    EXPECT_EQ(twice.chip().eeprom_writes(), once) << "once a power-up is enough";
}

TEST(BoardStore, AThousandPowerCutsLeaveTheOldOrTheNew) {
    const Bytes before = after_lesson(353'000);
    const unsigned old_us = on_prior_us(before.data() + copy_at[0]);
    Bench bench(board_elf(), before);
    learn(bench, 280'000);
    std::mt19937 random(1);
    const auto draw = [&](unsigned below) {
        return std::uniform_int_distribution<unsigned>(0, below - 1)(random);
    };
    unsigned new_us = 0, olds = 0, news = 0, torn = 0;
    for (int cut = 0; cut < 1000; ++cut) {
        bench.run_until_us(bench.now_us() + draw(100)); // in all, some longer than the writing takes
        const Bytes left = bench.chip().eeprom_after_cut(static_cast<std::uint8_t>(draw(256)));
        ASSERT_TRUE(is_whole(left, 0) || is_whole(left, 1)) << "cut " << cut;
        torn += !is_whole(left, 0) || !is_whole(left, 1);
        const unsigned loaded_us = loaded_on_prior_us(left);
        if (loaded_us == old_us) {
            ++olds;
            continue;
        }
        ASSERT_NEAR(loaded_us, 280'000, 2'000) << "cut " << cut;
        if (new_us == 0) new_us = loaded_us;
        ASSERT_EQ(loaded_us, new_us) << "cut " << cut;
        ++news;
    }
    EXPECT_GT(olds, 100u);
    EXPECT_GT(news, 100u);
    EXPECT_GT(torn, 300u) << "many cuts come while a copy is written";
}

TEST(BoardStore, ADamagedCopyIsNotUsedAndWrittenAnew) {
    const Bytes whole = after_lesson(353'000);
    const unsigned kept_us = loaded_on_prior_us(whole);
    std::mt19937 random(3);
    for (int i = 0; i < 20; ++i) {
        Bytes damaged = whole;
        const std::size_t copy = random() % 2;
        damaged[copy_at[copy] + random() % copy_size] ^= static_cast<std::uint8_t>(1u << random() % 8);
        ASSERT_FALSE(is_whole(damaged, copy));
        EXPECT_EQ(loaded_on_prior_us(damaged), kept_us);
        Chip chip(board_elf(), damaged);
        chip.run_until(280'000 * cycles_per_us);
        EXPECT_EQ(chip.eeprom_after_cut(0), whole) << "made whole from the other one";
    }
}

TEST(BoardStore, BothDamagedOrOfAnotherBikeGiveTheSettingsItWasMadeWith) {
    const Bytes whole = after_lesson(353'000);
    Bytes damaged = whole;
    for (const std::size_t at : copy_at)
        damaged[at + 20] ^= 0x10;
    EXPECT_EQ(loaded_on_prior_us(damaged), 0u);
    Bytes other = whole; // a whole copy with another vehicle's hash
    for (std::size_t copy : {0, 1}) {
        other[copy_at[copy] + 1] ^= 1;
        const std::uint16_t crc = crc_of(other, copy);
        other[copy_at[copy] + copy_size - 2] = static_cast<std::uint8_t>(crc);
        other[copy_at[copy] + copy_size - 1] = static_cast<std::uint8_t>(crc >> 8);
        ASSERT_TRUE(is_whole(other, copy));
    }
    EXPECT_EQ(loaded_on_prior_us(other), 0u);
}

} // namespace
} // namespace winkhold::testing
