#include "crc16.h"

uint16_t crc16_add(uint16_t crc, uint8_t octet) {
  uint16_t sum = (uint16_t)(crc ^ (uint16_t)(octet << 8));
  for (int bit = 0; bit < 8; bit++) {
    const uint16_t shifted = (uint16_t)(sum << 1);
    sum = (sum & 0x8000u) != 0 ? (uint16_t)(shifted ^ 0x1021u) : shifted;
  }
  return sum;
}
