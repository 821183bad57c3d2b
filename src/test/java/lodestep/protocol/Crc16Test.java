package lodestep.protocol;

import static org.assertj.core.api.Assertions.assertThat;

import org.junit.jupiter.api.Test;

class Crc16Test {

  @Test
  void agreesWithTheCatalogueOfParametrisedCrcAlgorithms() {
    // The catalogue's check value for CRC-16/CCITT-FALSE (also CRC-16/IBM-3740): "123456789".
    assertThat(Crc16.of("123456789")).isEqualTo(0x29B1);
  }

  @Test
  void isItsStartValueForNothing() {
    // Start value FFFF and no final inversion, from the same catalogue entry.
    assertThat(Crc16.of("")).isEqualTo(0xFFFF);
  }
}
