#!/usr/bin/env python3
"""Random bikes that a board can serve: each is packed, built with all warnings as errors, and passes its self-test.

Usage: any_bike.py WINKHOLD FIRST_SEED COUNT
"""
import pathlib
import random
import subprocess
import sys
import tempfile

PINS = ["D2", "D3", "D4", "D5", "D6", "D7", "D8", "D9", "D10", "A0", "A1", "A2", "A3", "A4", "A5"]
WITH_PWM = {"D3", "D5", "D6", "D9", "D10"}


class Bike:
    def __init__(self, seed):
        self.random = random.Random(seed)
        self.free = self.random.sample(PINS, len(PINS))
        self.registers = 0
        self.level = self.random.choice([255, 255, 100, 1, 254])
        self.has_registers = self.often(60)
        self.tables = [f'[vehicle]\nname = "Bike {seed}"']
        self.decoder()
        self.sequence()
        has_tail = self.taps(*self.register_pins())
        self.lamps(has_tail)

    def often(self, percent):
        return self.random.random() * 100 < percent

    def one_of(self, *values):
        return self.random.choice(values)

    def take(self, fits=lambda pin: True):
        pin = next(pin for pin in self.free if fits(pin))
        self.free.remove(pin)
        return pin

    def decoder(self):
        settings = {"settle": self.one_of("1ms", "3ms", "12ms", "20ms"), "hold": self.one_of("400ms", "760ms", "1200ms"),
                    "hold_rule": self.one_of("fixed", "paced"), "pwm_gap": "15ms", "handover": "off",
                    "gap_prior": "340ms", "supply_gone": "off", "cut_short": "off"}
        self.tables.append("\n".join(["[decoder]"] + [f'{name} = "{value}"' for name, value in settings.items()
                                                      if self.often(40)]))

    def sequence(self):
        if self.often(40):
            self.tables.append(f'[sequence]\nclock = "own-rate"\nrate_per_min = {self.one_of(60, 85, 120)}\n'
                               f"duty_percent = {self.one_of(40, 50, 75)}")
        elif self.often(50):
            self.tables.append('[sequence]\non_prior = "333ms"')

    def register_pins(self):
        if not self.has_registers:
            return None, None
        enable = self.take(lambda pin: pin in WITH_PWM if self.level != 255 else pin[0] == "D")
        return self.take(lambda pin: pin[0] == "D"), enable # the others may all be needed for taps

    def taps(self, latch, enable):
        analog = self.often(50)
        has_tail, has_second = self.often(70), self.often(30)
        wanted = [True, True, True, has_tail, self.often(50), has_second]
        fits = (lambda pin: pin[0] == "A") if analog else (lambda pin: not (self.has_registers and pin == "D10"))
        pins = [self.take(fits) if each else "" for each in wanted[:5 + has_second]]
        if analog and self.often(50):
            pins[0] = "A6" # which has no port
        self.tables.append("\n".join(
            ["[front_end]", *(['input = "adc"', "top_kohm = 120", "bottom_kohm = 47", "pin_v = 5", "on_above = 5",
                              "off_below = 3.5"] if analog else ['input = "logic"', 'part = "ATmega328P"'])] +
            [f'active_{line} = "{self.one_of("high", "low")}"' for line in ("left", "right", "brake")] +
            [f"second_brake = {str(has_second).lower()}"]))
        board = ["[board]", "tap_pins = [" + ", ".join(f'"{pin}"' for pin in pins) + "]"]
        if self.has_registers:
            board += ['register_data = "D11"', 'register_clock = "D13"', f'register_latch = "{latch}"',
                      f'register_enable = "{enable}"', f"shift_hz = {self.one_of(500_000, 1_000_000, 4_000_000, 9e6)}"]
        self.tables.append("\n".join(board))
        return has_tail

    def lamps(self, has_tail):
        groups = [("left", "turn", "left"), ("right", "turn", "right"), ("stop", "stop", "both")]
        groups += [("again left", "turn", "left")] * self.often(40) + [("tail", "tail", "both")] * (has_tail and self.often(50))
        groups += [("marker", "marker", self.one_of("left", "right", "both"))] * self.often(40)
        for name, job, side in groups:
            table = ["[[lamps]]", f'name = "{name}"', f'job = "{job}"', f'side = "{side}"']
            table += self.on_registers(job) if self.has_registers and self.often(70) else self.on_a_pin(job, has_tail)
            self.tables.append("\n".join(table))

    def on_registers(self, job):
        count = self.one_of(1, 2, 5, 8, 12)
        first, self.registers = self.registers + 1, self.registers + (count + 7) // 8
        keys = [f"count = {count}", f"brightness = {self.level}", 'driver = "shift-register"',
                "pins = [" + ", ".join(f'"SR{place}"' for place in range(first, self.registers + 1)) + "]"]
        if job == "tail":
            keys.append("dimmed = 0")
        if job == "turn" and count > 1 and self.often(70):
            keys += self.one_of(['pattern = "outward"'], ['pattern = "blocks"', f"block = {self.one_of(2, 3)}"])
            keys += [f'step = "{self.one_of("7ms", "20.5ms", "40ms")}"']
        if job == "turn" and self.often(30):
            keys += ['stay = "80ms"', 'blank = "60ms"']
        return keys

    def on_a_pin(self, job, has_tail):
        driver = f'driver = "{self.one_of("pin", "transistor")}"'
        if not WITH_PWM & set(self.free) or self.often(30):
            return ["count = 3", "dimmed = 0", driver, f'pins = ["{self.take()}"]']
        keys = [f"count = {self.one_of(1, 6)}", f"brightness = {self.one_of(255, 200, 1)}",
                f"dimmed = {0 if job == 'stop' and not has_tail else self.one_of(0, 20)}", driver,
                f'pins = ["{self.take(lambda pin: pin in WITH_PWM)}"]']
        if job == "turn" and self.often(50):
            keys += ['pattern = "fade"', f"block = {self.one_of(1, 16, 40)}", 'step = "5ms"']
        return keys


def main(winkhold, first, count):
    for seed in range(int(first), int(first) + int(count)):
        vehicle = "\n\n".join(Bike(seed).tables) + "\n"
        with tempfile.TemporaryDirectory() as folder:
            file = pathlib.Path(folder) / "bike.toml"
            file.write_text(vehicle)
            for command in ([winkhold, "pack", file, f"{folder}/board"], ["make", "-C", f"{folder}/board", "board.hex", "check"]):
                ran = subprocess.run(command, capture_output=True, text=True, errors="replace", timeout=300)
                if ran.returncode != 0:
                    sys.exit(f"seed {seed}:\n{vehicle}\n{ran.stdout}{ran.stderr}")
    print(f"{count} bikes packed, built and passed")


main(*sys.argv[1:])
