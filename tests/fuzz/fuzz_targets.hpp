// One function a target: bytes in, and nothing may crash, hang or come back changed. Each returns 0. What
// they find goes into corpus/NAME as it is, and replay_test.cpp runs it with the ordinary compiler from then
// on.
#pragma once

#include <cstddef>
#include <cstdint>

namespace firstdraw::fuzz {

int one_api_body(const std::uint8_t* data, std::size_t size);
int one_archive(const std::uint8_t* data, std::size_t size);
int one_csv_log(const std::uint8_t* data, std::size_t size);
int one_day_blob(const std::uint8_t* data, std::size_t size);
int one_job_folder(const std::uint8_t* data, std::size_t size);
int one_readings_csv(const std::uint8_t* data, std::size_t size);
int one_record_body(const std::uint8_t* data, std::size_t size);
int one_register_map(const std::uint8_t* data, std::size_t size);

}  // namespace firstdraw::fuzz
