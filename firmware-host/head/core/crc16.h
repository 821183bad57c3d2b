/* CRC-16/CCITT-FALSE: polynomial 1021, start FFFF, nothing reflected; "123456789" gives 29B1. */
#ifndef LODESTEP_CRC16_H
#define LODESTEP_CRC16_H

#include <stdint.h>

#define CRC16_START UINT16_C(0xFFFF)

/* The checksum with one more byte taken in. */
uint16_t crc16_add(uint16_t crc, uint8_t octet);

#endif
