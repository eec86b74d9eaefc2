
# The self-test plays a ride with this bike's settings. "make check" runs it in Debian's simavr; flash selftest.hex to
# run it on the chip itself, which tells the result on its UART.
$(OUT)/selftest.hex: $(OUT)/selftest.elf
	avr-objcopy -O ihex -R .eeprom $< $@

$(OUT)/selftest.elf: selftest.cpp golden.hpp bike.hpp parts.hpp
	avr-g++ $(FLAGS) -I$(CORE) selftest.cpp -o $@

check: $(OUT)/selftest.elf
	timeout 120 simavr -m atmega328p -f 16000000 $< 2>&1 | tee $(OUT)/selftest.log
	grep -q 'self-test passed' $(OUT)/selftest.log

.PHONY: check clean
