/// [board], [battery] and [flasher_load]: what feeds the lamps' board, and what it may carry.
#pragma once

#include "winkhold/bike/electrics/strings.hpp"

#include <string>

namespace winkhold::bike {

/// How the board makes its logic voltage, as [board] has it.
enum class Regulator { linear, switching };
/// What keeps a reversed battery out, as [board] has it.
enum class ReversePart { none, diode, schottky, p_mosfet };
/// Whether the lamps hang on the bulk capacitor's node, or the board alone does.
enum class BulkFeeds { all, board };
/// Of the battery's cells.
enum class Chemistry { lead, lithium };
/// What a shift register's outputs do: feed strings from the regulator, or sink those at 12 V.
enum class RegisterKind { logic, power };

/// What is optional may be left out of the file: then what depends on it is not judged.
struct Board {
    std::optional<double> board_ma; ///< running, without lamps, from the regulator
    std::optional<double> sleep_ma; ///< parked, from the battery

    std::optional<Regulator> regulator;
    std::optional<double> regulator_v;
    std::optional<double> dropout_v;
    std::optional<double> efficiency_percent; ///< switching
    std::optional<double> regulator_most_v;   ///< its input stands this
    std::optional<double> tvs_v;              ///< a suppressor keeps the input below this
    std::optional<double> thermal_c_per_w;    ///< junction to air
    std::optional<double> ambient_c;
    double junction_c{125};
    std::optional<double> least_v; ///< the board runs down to this supply
    double bulk_uf{0};             ///< behind the reverse polarity part
    /// The lamps that 12 V feeds hang on that capacitor, too, unless a Schottky diode of the board's own
    /// keeps them off it.
    BulkFeeds bulk_feeds{BulkFeeds::all};

    std::optional<ReversePart> reverse;
    std::optional<double> reverse_v; ///< that part blocks this

    std::optional<double> pin_ma;
    std::optional<double> port_ma;
    std::optional<double> package_ma;
    std::optional<double> transistor_ma;
    std::optional<RegisterKind>
        register_kind; ///< logic: feeds strings from regulator_v; power: sinks 12 V strings
    std::optional<double> register_pin_ma;
    std::optional<double> register_package_ma;
    int register_outputs{8};
    std::optional<double> shift_hz;
    std::optional<double> pwm_hz;

    std::optional<double> gate_pulldown_kohm; ///< keeps transistors off while pins float; 0: none
    std::optional<double> enable_pullup_kohm; ///< keeps register outputs off until firmware speaks; 0: none
    double switch_drop_v{0};
    std::optional<double> headroom_v; ///< constant-current part
    std::optional<double> current_part_w;

    std::optional<int> awg; ///< supply wire
    std::optional<double> length_m;
    /// Where the firmware reads left, right, brake, tail, supply; empty: nowhere.
    std::vector<std::string> tap_pins;
    // The pins that the chain of registers hangs on; empty: not said.
    std::string register_data;
    std::string register_clock;
    std::string register_latch;  ///< a rise shows what has been shifted in
    std::string register_enable; ///< low: outputs are on; dims all of them if it has PWM

    /// Volts lost in the reverse polarity part (0, 0.8, 0.4, 0: common practice, no source).
    double reverse_drop_v() const;
    /// The same and the board's own diode, if it has one.
    double input_drop_v() const;
    /// What the board takes from `input_v` (behind all drops) while so much is drawn from its regulator.
    double input_ma(double load_ma, double input_v) const;
    /// What feeds strings behind this driver; none if that is not known.
    std::optional<StringSupply> feeds(LampDriver driver) const;
    /// Strings behind this driver are fed from the regulator.
    bool from_regulator(LampDriver driver) const;
};

/// [battery]: how long the bike may stand.
struct Battery {
    std::optional<double> capacity_ah;
    std::optional<double> parked_days; ///< it should stand so long
    std::optional<Chemistry> chemistry;

    /// At 25 C, at most: lead 3-10 %, lithium 2-3 % (common practice). Not known: as lead, the worse.
    double self_discharge_percent_per_month() const;
};

/// [flasher_load]: whether the factory flasher still sees enough lamps.
struct FlasherLoad {
    std::optional<double> least_w; ///< that the flasher needs on one side to flash as it should
    std::optional<double> kept_w;  ///< factory lamps left on that side
};

/// The three sections; a section that the file doesn't have is unset.
struct SupplySections {
    std::optional<Board> board;
    std::optional<Battery> battery;
    std::optional<FlasherLoad> flasher_load;
};

} // namespace winkhold::bike
