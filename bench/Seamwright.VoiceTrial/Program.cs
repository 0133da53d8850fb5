using Seamwright.VoiceTrial;

return Commands.Root().Parse(args).Invoke();
