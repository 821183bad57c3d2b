package lodestep.magnet;

/**
 * The alloys of published figures, at 20 °C.
 *
 * <p>Each figure bears the mark of its source; "-" is a figure that is not known, and what needs it
 * is refused with its name. "read" was read in the source named; "from memory" was not at hand.
 * Lots with measured figures stand in rig.toml, as {@code [[lot]]}.
 */
final class AlloyTable {

  static final String TEXT =
      """
      source a | from memory     | MMPA Standard 0100-00, section II, tables II-1 and II-2.
                                   Every remanence and HcB lies inside the envelope of ASTM
                                   A1070-16 (0.52 to 1.35 T, 38 to 175 kA/m), whose scope was
                                   read.
      source b | from memory     | handbook class of cast alnico 4, not in MMPA 0100-00: the
                                   middle of the ranges quoted.
      source c | from memory     | MMPA Standard 0100-00, section III, for ceramic.
      source d | from memory     | customary table of sintered neodymium grades; the lower end
                                   where a range is quoted.
      source f | read            | material library of a general-purpose open finite-element
                                   program (points and conductivities of October 2023). MMPA's
                                   resistivities, from memory, lie within 3 per cent.
      source i | from memory     | IEC 60404-8-1, permanent magnet classes; a figure inside the
                                   range given there.
      source t | from memory     | MMPA Standard 0100-00, table II-4 and section III:
                                   reversible change near room temperature. That of an open
                                   magnet depends on its working point (C. Joksch, Physica 80B,
                                   1975, abstract read).
      source s | from memory     | MMPA Standard 0100-00 and Permanent Magnet Guidelines
                                   PMG-88: net field inside the magnet. 240 kA/m for alnico 5
                                   and 640 for alnico 8 were also read in a producer's table.
      source h | from memory     | handbook rule: four times HcJ.
      source g | from memory     | MMPA Standard 0100-00, densities.
      source p | common practice | no source: how far lots, and magnets of one lot, lie apart
                                   (standard deviations).
      source q | common practice | no source: between the alloys beside it.

      name                | alnico 2 | alnico 3 | alnico 4 | alnico 5 | alnico 5-7
      family              | alnico   | alnico   | alnico   | alnico   | alnico
      form                | cast     | cast     | cast     | cast     | cast
      Br T                | 0.75 a   | 0.70 a   | 0.56 b   | 1.28 a   | 1.35 a
      HcB kA/m            | 45 a     | 38 a     | 57 b     | 51 a     | 59 a
      HcJ kA/m            | 46 a     | 40 a     | 60 b     | 51 a     | 59 a
      BHmax kJ/m3         | 13.5 a   | 10.7 a   | 10.5 b   | 43.8 a   | 59.7 a
      recoil              | 5.5 i    | 6.0 i    | 4.1 q    | 3.3 i    | 3.0 i
      Br %/K              | -0.03 t  | -0.03 t  | -0.02 q  | -0.02 t  | -0.02 t
      HcJ %/K             | -0.02 t  | -0.02 t  | -        | 0.01 t   | 0.01 t
      density g/cm3       | 7.1 g    | 6.9 g    | -        | 7.3 g    | 7.3 g
      resistivity uOhm cm | 66.7 f   | 58.8 f   | 75 b     | 47.6 f   | 47.6 f
      saturating kA/m     | 200 s    | 200 s    | 240 h    | 240 s    | 240 s
      Br lot %            | 2.0 p    | 2.0 p    | 2.0 p    | 2.5 p    | 2.5 p
      Br magnet %         | 0.8 p    | 0.8 p    | 0.8 p    | 1.0 p    | 1.0 p
      Hc lot %            | 3.0 p    | 3.0 p    | 3.0 p    | 3.0 p    | 3.0 p
      Hc magnet %         | 1.2 p    | 1.2 p    | 1.2 p    | 1.5 p    | 1.5 p

      name                | alnico 6 | alnico 8 | alnico 9
      family              | alnico   | alnico   | alnico
      form                | cast     | cast     | cast
      Br T                | 1.05 a   | 0.82 a   | 1.06 a
      HcB kA/m            | 62 a     | 131 a    | 119 a
      HcJ kA/m            | 64 a     | 148 a    | 119 a
      BHmax kJ/m3         | 31.0 a   | 42.2 a   | 71.6 a
      recoil              | 3.5 i    | 2.2 i    | 2.0 i
      Br %/K              | -0.02 t  | -0.025 t | -0.025 t
      HcJ %/K             | 0.03 t   | 0.01 t   | 0.01 t
      density g/cm3       | 7.4 g    | 7.3 g    | 7.3 g
      resistivity uOhm cm | 50.0 f   | 52.6 f   | 52.6 f
      saturating kA/m     | 320 s    | 640 s    | 640 s
      Br lot %            | 2.5 p    | 2.5 p    | 2.5 p
      Br magnet %         | 1.0 p    | 1.0 p    | 1.0 p
      Hc lot %            | 3.0 p    | 3.0 p    | 3.0 p
      Hc magnet %         | 1.5 p    | 1.5 p    | 1.5 p

      name                | sintered alnico 2 | sintered alnico 5
      family              | alnico            | alnico
      form                | sintered          | sintered
      Br T                | 0.71 a            | 1.09 a
      HcB kA/m            | 44 a              | 49 a
      HcJ kA/m            | 45 a              | 50 a
      BHmax kJ/m3         | 11.9 a            | 31.0 a
      recoil              | 5.5 i             | 3.5 i
      Br %/K              | -0.03 t           | -0.02 t
      HcJ %/K             | -0.02 t           | 0.01 t
      density g/cm3       | -                 | -
      resistivity uOhm cm | 66.7 f            | 50.0 f
      saturating kA/m     | 200 s             | 240 s
      Br lot %            | 2.0 p             | 2.5 p
      Br magnet %         | 0.8 p             | 1.0 p
      Hc lot %            | 3.0 p             | 3.0 p
      Hc magnet %         | 1.2 p             | 1.5 p

      name                | sintered alnico 6 | sintered alnico 8
      family              | alnico            | alnico
      form                | sintered          | sintered
      Br T                | 0.94 a            | 0.74 a
      HcB kA/m            | 63 a              | 119 a
      HcJ kA/m            | 65 a              | 134 a
      BHmax kJ/m3         | 23.1 a            | 31.8 a
      recoil              | 4.0 i             | 2.3 i
      Br %/K              | -0.02 t           | -0.025 t
      HcJ %/K             | 0.03 t            | 0.01 t
      density g/cm3       | -                 | -
      resistivity uOhm cm | 54 a              | 52.6 f
      saturating kA/m     | 320 s             | 640 s
      Br lot %            | 2.5 p             | 2.5 p
      Br magnet %         | 1.0 p             | 1.0 p
      Hc lot %            | 3.0 p             | 3.0 p
      Hc magnet %         | 1.5 p             | 1.5 p

      name                | ceramic 5 | ceramic 8
      family              | ferrite   | ferrite
      form                | sintered  | sintered
      Br T                | 0.38 c    | 0.385 c
      HcB kA/m            | 191 c     | 235 c
      HcJ kA/m            | 199 c     | 243 c
      BHmax kJ/m3         | 27.1 c    | 27.8 c
      recoil              | 1.05 i    | 1.05 i
      Br %/K              | -0.20 t   | -0.20 t
      HcJ %/K             | 0.35 t    | 0.35 t
      density g/cm3       | -         | -
      resistivity uOhm cm | -         | -
      saturating kA/m     | 800 s     | 800 s
      Br lot %            | 2.0 p     | 2.0 p
      Br magnet %         | 1.0 p     | 1.0 p
      Hc lot %            | 4.0 p     | 4.0 p
      Hc magnet %         | 2.0 p     | 2.0 p

      name                | neodymium N35 | neodymium N38 | neodymium N40 | neodymium N42
      family              | neodymium     | neodymium     | neodymium     | neodymium
      form                | sintered      | sintered      | sintered      | sintered
      Br T                | 1.195 f       | 1.247 f       | 1.280 f       | 1.312 f
      HcB kA/m            | 868 d         | 899 d         | 907 d         | 915 d
      HcJ kA/m            | 955 d         | 955 d         | 955 d         | 955 d
      BHmax kJ/m3         | 263 d         | 287 d         | 302 d         | 318 d
      recoil              | 1.05 d        | 1.05 d        | 1.05 d        | 1.05 d
      Br %/K              | -0.12 d       | -0.12 d       | -0.12 d       | -0.12 d
      HcJ %/K             | -0.6 d        | -0.6 d        | -0.6 d        | -0.6 d
      density g/cm3       | 7.5 d         | 7.5 d         | 7.5 d         | 7.5 d
      resistivity uOhm cm | 150 f         | 150 f         | 150 f         | 150 f
      saturating kA/m     | 2400 d        | 2400 d        | 2400 d        | 2400 d
      Br lot %            | 1.5 p         | 1.5 p         | 1.5 p         | 1.5 p
      Br magnet %         | 0.5 p         | 0.5 p         | 0.5 p         | 0.5 p
      Hc lot %            | 4.0 p         | 4.0 p         | 4.0 p         | 4.0 p
      Hc magnet %         | 2.0 p         | 2.0 p         | 2.0 p         | 2.0 p

      name                | neodymium N45 | neodymium N48 | neodymium N50 | neodymium N52
      family              | neodymium     | neodymium     | neodymium     | neodymium
      form                | sintered      | sintered      | sintered      | sintered
      Br T                | 1.359 f       | 1.405 f       | 1.435 f       | 1.464 f
      HcB kA/m            | 923 d         | 923 d         | 796 d         | 796 d
      HcJ kA/m            | 955 d         | 955 d         | 876 d         | 876 d
      BHmax kJ/m3         | 342 d         | 366 d         | 382 d         | 398 d
      recoil              | 1.05 d        | 1.05 d        | 1.05 d        | 1.05 d
      Br %/K              | -0.12 d       | -0.12 d       | -0.12 d       | -0.12 d
      HcJ %/K             | -0.6 d        | -0.6 d        | -0.6 d        | -0.6 d
      density g/cm3       | 7.5 d         | 7.5 d         | 7.5 d         | 7.5 d
      resistivity uOhm cm | 150 f         | 150 f         | 150 f         | 150 f
      saturating kA/m     | 2400 d        | 2400 d        | 2400 d        | 2400 d
      Br lot %            | 1.5 p         | 1.5 p         | 1.5 p         | 1.5 p
      Br magnet %         | 0.5 p         | 0.5 p         | 0.5 p         | 0.5 p
      Hc lot %            | 4.0 p         | 4.0 p         | 4.0 p         | 4.0 p
      Hc magnet %         | 2.0 p         | 2.0 p         | 2.0 p         | 2.0 p
      """;

  private AlloyTable() {}
}
